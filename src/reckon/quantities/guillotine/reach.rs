//! Of a length, how much a row of pieces can make use of. Knows lengths; must not know where rows lie.

/// For each length, the longest row of given sides not longer than it; or one that comes within a step
/// of the length.
pub struct Reach {
    /// Lengths are looked at in steps of two to this power.
    power: u32,
    longest: Vec<i64>,
}

/// Steps a length is looked at in, at least.
const STEPS: i64 = 700;

impl Reach {
    /// Of rows of these sides, up to `most`; and what it cost to find.
    pub fn new(sides: &[i64], most: i64) -> (Reach, u64) {
        let power = (most / STEPS).max(1).ilog2();
        let unit = 1_i64 << power;
        let places = (most >> power) + 1;
        let mut sides: Vec<i64> = sides.iter().copied().filter(|s| *s > 0).collect();
        sides.sort_unstable_by_key(|s| std::cmp::Reverse(*s));
        sides.dedup();
        let mut longest = vec![0_i64];
        let mut cost = 0_u64;
        for i in 1..=places {
            let room = i * unit;
            let within = |length: i64| {
                let at = usize::try_from(length >> power).unwrap_or(0);
                longest.get(at).copied().unwrap_or(0)
            };
            let mut best = within(room - unit);
            let first = sides.partition_point(|s| *s > room);
            for side in sides.iter().skip(first) {
                best = best.max(within(room - side) + side);
                cost += 1;
                if best + unit > room {
                    break;
                }
            }
            longest.push(best);
        }
        (Reach { power, longest }, cost / 4)
    }

    pub fn of(&self, room: i64) -> i64 {
        let at = usize::try_from(room >> self.power).unwrap_or(0);
        let known = self.longest.get(at).or(self.longest.last());
        known.copied().unwrap_or(0).min(room)
    }
}
