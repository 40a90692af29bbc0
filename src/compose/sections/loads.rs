//! What a full unit comes to, in the words of its card. Knows what a fitter asks; every number is the
//! reckoning's.

use super::super::words;
use crate::reckon::loads::{FeetLoad, Loads, WallLoad};

/// After the settings of its feet.
pub fn on_feet(loads: &Loads) -> Option<String> {
    let FeetLoad {
        whole,
        most,
        rating,
        ..
    } = loads.feet?;
    let each = match rating {
        Some(rating) => format!("rated {}", words::rating(rating)),
        None => "its rating not stated".to_owned(),
    };
    Some(format!(
        "Loaded {}: {} on one, {each}.",
        words::kg(whole),
        words::kg(most)
    ))
}

/// Of a hung or tall unit.
pub fn at_wall(loads: &Loads) -> Option<String> {
    const WHO: &str = "fixings by somebody competent who has seen this wall.";
    Some(match loads.wall? {
        WallLoad::Hung { whole, down, out } => format!(
            "Hangs with {} loaded: {down} N down, {out} N out at its top; {WHO}",
            words::kg(whole)
        ),
        WallLoad::Held { out } => {
            format!("Held near its top against tipping, {out} N: {WHO}")
        }
    })
}
