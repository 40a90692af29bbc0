//! JSON as bytes that are the same on every machine, by the rules of RFC 8785, and their hash. Knows
//! texts, whole numbers and the forms of facts, which is all that a record holds; must not know what they
//! mean.

use std::fmt::Write;

use serde::Serialize;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::record::{Fact, Facts};

/// The value's one canonical text: keys in order of their UTF-16 units, no blanks, each character
/// escaped in the one way ECMAScript does it.
///
/// # Errors
/// A number that is not whole, or too large to be exact as a double (2^53): a record has none.
pub fn json(value: &impl Serialize) -> Result<String, String> {
    let tree = serde_json::to_value(value).map_err(|e| e.to_string())?;
    let mut out = String::new();
    self::value(&tree, &mut out)?;
    Ok(out)
}

/// SHA-256 in hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

const EXACT: i64 = 1 << 53;

fn value(value: &Value, out: &mut String) -> Result<(), String> {
    match value {
        Value::Null => out.push_str("null"),
        Value::Bool(yes) => out.push_str(if *yes { "true" } else { "false" }),
        Value::Number(n) => match n.as_i64() {
            Some(n) if (-EXACT..=EXACT).contains(&n) => out.push_str(&n.to_string()),
            _ => return Err(format!("{n} is not a whole number that is exact")),
        },
        Value::String(text) => quoted(text, out),
        Value::Array(items) => {
            out.push('[');
            for (n, item) in items.iter().enumerate() {
                if n > 0 {
                    out.push(',');
                }
                self::value(item, out)?;
            }
            out.push(']');
        }
        Value::Object(fields) => {
            let mut sorted: Vec<(&String, &Value)> = fields.iter().collect();
            sorted.sort_by(|a, b| a.0.encode_utf16().cmp(b.0.encode_utf16()));
            out.push('{');
            for (n, (key, value)) in sorted.into_iter().enumerate() {
                if n > 0 {
                    out.push(',');
                }
                quoted(key, out);
                out.push(':');
                self::value(value, out)?;
            }
            out.push('}');
        }
    }
    Ok(())
}

/// Facts as [`json`] writes them, without the way over a tree of values: a job has thousands. Their names
/// are in the order of their bytes, which is that of their UTF-16 units as long as they are keys and words
/// of ours.
pub fn facts(facts: &Facts, out: &mut String) {
    out.push('{');
    for (n, (name, value)) in facts.iter().enumerate() {
        if n > 0 {
            out.push(',');
        }
        quoted(name, out);
        out.push(':');
        fact(value, out);
    }
    out.push('}');
}

fn fact(value: &Fact, out: &mut String) {
    let mut number = |name: &str, n: i64| {
        let _ = write!(out, "{{\"{name}\":{n}}}");
    };
    match value {
        Fact::Um(n) => number("um", *n),
        Fact::Grams(n) => number("grams", *n),
        Fact::Millidegrees(n) => number("millidegrees", *n),
        Fact::PercentThousandths(n) => number("percent_thousandths", *n),
        Fact::Thousandths(n) => number("thousandths", *n),
        Fact::SquareMm(n) => number("square_mm", *n),
        Fact::Millilitres(n) => number("millilitres", *n),
        Fact::Money(n) => number("money", *n),
        Fact::Count(n) => number("count", i64::from(*n)),
        Fact::Yes(yes) => {
            let _ = write!(out, "{{\"yes\":{yes}}}");
        }
        Fact::Text(text) => tagged("text", text, out),
        Fact::Name(text) => tagged("name", text, out),
        Fact::Day(text) => tagged("day", text, out),
        Fact::List(items) => {
            out.push_str("{\"list\":[");
            for (n, item) in items.iter().enumerate() {
                if n > 0 {
                    out.push(',');
                }
                fact(item, out);
            }
            out.push_str("]}");
        }
    }
}

fn tagged(name: &str, text: &str, out: &mut String) {
    let _ = write!(out, "{{\"{name}\":");
    quoted(text, out);
    out.push('}');
}

/// A text in quotes, each character escaped in the one way.
pub fn quoted(text: &str, out: &mut String) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\u{8}' => out.push_str("\\b"),
            '\t' => out.push_str("\\t"),
            '\n' => out.push_str("\\n"),
            '\u{c}' => out.push_str("\\f"),
            '\r' => out.push_str("\\r"),
            c if u32::from(c) < 0x20 => out.push_str(&format!("\\u{:04x}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The keys and their order are those of the sorting example of RFC 8785, section 3.2.3 (from
    /// memory).
    #[test]
    fn keys_are_sorted_by_utf_16_units() {
        let value = serde_json::json!({
            "\u{20ac}": 1, "\r": 2, "\u{fb33}": 3, "1": 4, "\u{1f600}": 5, "\u{80}": 6, "\u{f6}": 7,
        });
        assert_eq!(
            json(&value).expect("canonical"),
            "{\"\\r\":2,\"1\":4,\"\u{80}\":6,\"\u{f6}\":7,\"\u{20ac}\":1,\"\u{1f600}\":5,\"\u{fb33}\":3}"
        );
    }

    /// The string of RFC 8785, section 3.2.2.2 (from memory): control characters in lower-case
    /// digits, no escaping of `/` or of what is beyond ASCII.
    #[test]
    fn characters_are_escaped_in_one_way() {
        let value = serde_json::json!("\u{20ac}$\u{f}\nA'B\"\\\\\"/");
        assert_eq!(
            json(&value).expect("canonical"),
            "\"\u{20ac}$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\""
        );
        assert!(json(&0.5).is_err());
    }

    /// The short way gives what the long way gives, for every form of fact.
    #[test]
    fn facts_are_written_as_anything_else_is() {
        let all = [
            Fact::Um(-3),
            Fact::Grams(4),
            Fact::Millidegrees(90_000),
            Fact::PercentThousandths(5),
            Fact::Thousandths(6),
            Fact::SquareMm(7),
            Fact::Millilitres(8),
            Fact::Money(12_500),
            Fact::Count(7),
            Fact::Yes(true),
            Fact::Text("a \"b\"\n\u{e9}".to_owned()),
            Fact::Name("W1".to_owned()),
            Fact::Day("2026-03-02".to_owned()),
            Fact::List(vec![Fact::List(Vec::new()), Fact::Um(1), Fact::Yes(false)]),
        ];
        let named = all
            .into_iter()
            .enumerate()
            .map(|(n, f)| (format!("fact {n}"), f));
        let named: Facts = named.collect();
        let mut out = String::new();
        facts(&named, &mut out);
        assert_eq!(json(&named).expect("canonical"), out);
    }

    /// The object of RFC 8785, section 3.2.2 (from memory), without those of its numbers that are not whole:
    /// a record has none, and they are refused.
    #[test]
    fn the_published_object_is_written_as_published() {
        let text = r#"{ "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false] }"#;
        let value: Value = serde_json::from_str(text).expect("JSON");
        assert_eq!(
            json(&value).expect("canonical"),
            "{\"literals\":[null,true,false],\"string\":\"\u{20ac}$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}"
        );
        for number in [
            "333333333.33333329",
            "1E30",
            "4.50",
            "2e-3",
            "0.000000000000000000000000001",
        ] {
            let value: Value = serde_json::from_str(number).expect("a number");
            assert!(json(&value).is_err(), "{number}");
        }
    }

    /// Whole numbers of RFC 8785, appendix B (from memory): zero, and the largest that are exact. The next
    /// one is refused rather than written as another.
    #[test]
    fn whole_numbers_are_written_as_published_and_only_exact_ones() {
        for (number, text) in [
            (0i64, "0"),
            (9_007_199_254_740_992, "9007199254740992"),
            (-9_007_199_254_740_992, "-9007199254740992"),
        ] {
            assert_eq!(json(&number).as_deref(), Ok(text));
        }
        assert!(json(&9_007_199_254_740_994i64).is_err());
        assert!(json(&u64::MAX).is_err());
    }

    /// FIPS 180-4's published examples (from memory): three letters, 56 letters over two blocks, a million
    /// times "a"; and no letter at all.
    #[test]
    fn the_hash_is_sha_256() {
        let million = "a".repeat(1_000_000);
        for (text, hash) in [
            (
                "abc",
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
            ),
            (
                "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
                "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
            ),
            (
                &million,
                "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
            ),
            (
                "",
                "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
            ),
        ] {
            assert_eq!(sha256(text.as_bytes()), hash);
        }
    }
}
