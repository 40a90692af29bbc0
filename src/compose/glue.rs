//! A number is not parted from its unit or from the mark before it at the end of a line. Which words
//! belong together is known to `lettering`; must not know where they stand.

use serde_json::Value;

use crate::lettering;

/// Every text of the page data so.
pub fn glue(value: &mut Value) {
    match value {
        Value::String(text) => {
            if let Some(glued) = glued(text) {
                *text = glued;
            }
        }
        Value::Array(all) => all.iter_mut().for_each(glue),
        // A path is no text.
        Value::Object(all) => all
            .iter_mut()
            .filter(|(key, _)| *key != "path")
            .for_each(|(_, v)| glue(v)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// `None` where it stays as it is.
fn glued(text: &str) -> Option<String> {
    let mut words = text.split(' ').peekable();
    let mut out = String::with_capacity(text.len() + 8);
    while let Some(word) = words.next() {
        out.push_str(word);
        if let Some(next) = words.peek() {
            out.push(if lettering::together(word, next) {
                '\u{a0}'
            } else {
                ' '
            });
        }
    }
    (out != text).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_stays_with_its_unit_and_its_mark() {
        let said = |text: &str| glued(text).unwrap_or_else(|| text.to_owned());
        assert_eq!(said("4 mm, 93 mm."), "4\u{a0}mm, 93\u{a0}mm.");
        assert_eq!(said("4 \u{d7} 30 kg"), "4\u{a0}\u{d7}\u{a0}30\u{a0}kg");
        assert_eq!(said("Clash 1 (front 30)"), "Clash\u{a0}1 (front\u{a0}30)");
        assert_eq!(glued("2 of 3 doors, in front of it"), None);
        assert_eq!(glued("the wall is 4 metres"), None);
    }
}
