//! Of a length, how much a row of pieces can make use of. Knows lengths; must not know where rows lie.

/// For each length, the longest row of given sides not longer than it.
pub struct Reach {
    unit: i64,
    longest: Vec<i64>,
}

/// Steps a length is looked at in.
const STEPS: i64 = 700;

impl Reach {
    /// Of rows of these sides, up to `most`; and what it cost to find.
    pub fn new(sides: &[i64], most: i64) -> (Reach, u64) {
        let unit = (most / STEPS).max(1);
        let places = most / unit + 1;
        let mut longest = vec![0_i64];
        for i in 1..=places {
            let room = i * unit;
            let within = |length: i64| {
                let at = usize::try_from(length / unit).unwrap_or(0);
                longest.get(at).copied().unwrap_or(0)
            };
            let rows = sides.iter().filter(|s| **s > 0 && **s <= room);
            let best = rows.map(|s| within(room - s) + s).max().unwrap_or(0);
            longest.push(best.max(within(room - unit)));
        }
        let cost = sides.len().saturating_mul(longest.len()) / 4;
        (Reach { unit, longest }, cost as u64)
    }

    pub fn of(&self, room: i64) -> i64 {
        let at = usize::try_from(room / self.unit).unwrap_or(0);
        let known = self.longest.get(at).or(self.longest.last());
        known.copied().unwrap_or(0).min(room)
    }
}
