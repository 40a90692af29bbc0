//! Dividing a length among parts, some of fixed size and the rest alike. Knows the half-millimetre
//! rule; must not know whether the parts are units, bays, fronts or boards.

use super::profile;
use crate::units::Length;

/// Sizes in the order asked for, and what is left over (never negative).
#[derive(Debug, PartialEq)]
pub struct Shares {
    pub sizes: Vec<Length>,
    pub left_over: Length,
}

/// Divides `space` among parts with `between` between neighbours; `None` shares what the fixed
/// parts leave, rounded down to 0.5 mm (handbook §1 "shared widths").
///
/// Error: how much is missing, when the fixed parts and gaps alone are larger than the space.
pub fn share(space: Length, wanted: &[Option<Length>], between: Length) -> Result<Shares, Length> {
    let gaps = between * (wanted.len().saturating_sub(1) as i64);
    let fixed: Length = wanted.iter().flatten().copied().sum();
    let rest = space - fixed - gaps;
    if rest.is_negative() {
        return Err(-rest);
    }
    let sharing = wanted.iter().filter(|w| w.is_none()).count() as i64;
    let each = profile::down(rest / sharing);
    Ok(Shares {
        sizes: wanted.iter().map(|w| w.unwrap_or(each)).collect(),
        left_over: rest - each * sharing,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // Handbook §1: w = (W − Σ fixed − Σ gaps)/k, rounded down to 0.5 mm. Worked by hand:
    // (2700 − 600 − 2·3)/2 = 1047; (1000 − 2·3)/3 = 331.33 → 331, 1 left over.
    #[test]
    fn shares_are_whole_half_millimetres() {
        let got = share(
            Length::mm(2700),
            &[None, Some(Length::mm(600)), None],
            Length::mm(3),
        );
        assert_eq!(
            got,
            Ok(Shares {
                sizes: vec![Length::mm(1047), Length::mm(600), Length::mm(1047)],
                left_over: Length::ZERO
            })
        );
        let got = share(Length::mm(1000), &[None, None, None], Length::mm(3));
        assert_eq!(
            got,
            Ok(Shares {
                sizes: vec![Length::mm(331); 3],
                left_over: Length::mm(1)
            })
        );
    }

    #[test]
    fn says_how_much_is_missing() {
        let got = share(
            Length::mm(500),
            &[Some(Length::mm(520)), None],
            Length::mm(3),
        );
        assert_eq!(got, Err(Length::mm(23)));
    }
}
