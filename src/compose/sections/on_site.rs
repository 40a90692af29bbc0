//! What a fitter can do about a finding, on site and with the design as it is: the reckoning's own advice is for
//! whoever designs. Knows codes of findings; must not decide anything in the designer's place.

use crate::reckon::placed::Finding;

/// Codes whose own advice is for whoever fits.
const FOR_FITTERS: &[&str] = &[
    "appliance-ventilation",
    "feet-fitted-after",
    "leaf-stops-short",
    "lift-over-guideline",
    "unit-notched",
    "wall-fixing-load",
];

pub fn advice(finding: &Finding) -> String {
    let said = match finding.code {
        code if FOR_FITTERS.contains(&code) => return finding.advice.clone(),
        "open-front-in-doorway" => {
            "Leave the doorway free while you work, and shut them before anybody walks through. Whether it may stay so is \
             for the designer, and for those who know the fire rules."
        }
        "fronts-meet" | "open-fronts-touch" => {
            "Open one at a time, also while you set them. A stop, another hinge side or a filler is for the designer to \
             decide."
        }
        "front-may-bow" => {
            "Store them flat; hang and set them in a dry, heated room, and set the hinges again when it has settled. \
             Another board or a straightener is for the designer to decide."
        }
        "shelf-sags" | "rail-sags" => {
            "Do not load it to try it. Whether it is made stiffer is for the designer to decide: ask before it is put in."
        }
        "pattern-step" | "pattern-changes-board" | "pattern-colour" => {
            "Hang them by the pattern map; what it shows is no fault to be put right."
        }
        "edge-not-whole-strips" => {
            "Made so in the workshop: look at the joint under the edge before the top is laid."
        }
        "sight-past-sliding" => {
            "Set the leaf as near the wall as its track lets it. A seal, a post or a wider leaf is for the designer to \
             decide."
        }
        "service-behind-appliance" => {
            "Before the machine goes in, ask whoever is licensed whether a valve or plug must be reached; moving it is \
             their work."
        }
        "service-at-foot" | "service-behind-side" | "service-inside-unit" => {
            "Find it on site before you drill or set a foot; where it is as drawn, stop and ask the designer."
        }
        _ if finding.advice.trim().is_empty() => "Ask the designer before you go on.",
        _ => {
            return format!(
                "Ask the designer before you go on. Proposed: {}",
                finding.advice
            );
        }
    };
    said.to_owned()
}
