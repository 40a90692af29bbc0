//! Base64 (RFC 4648, section 4) back to bytes. Knows the alphabet; must not know what the bytes are.

/// The bytes; `None` where it is not written in the one way there is.
pub fn decode(text: &str) -> Option<Vec<u8>> {
    let bytes = text.as_bytes();
    if !bytes.len().is_multiple_of(4) {
        return None;
    }
    let mut out = Vec::with_capacity(bytes.len() / 4 * 3);
    let last = (bytes.len() / 4).checked_sub(1);
    for (n, four) in bytes.chunks(4).enumerate() {
        let filled = four.iter().rev().take_while(|b| **b == b'=').count();
        if filled > 2 || filled > 0 && Some(n) != last {
            return None;
        }
        let mut bits = 0u32;
        for byte in four.iter().take(4 - filled) {
            bits = bits << 6 | value(*byte)?;
        }
        bits <<= 6 * filled;
        let [_, a, b, c] = bits.to_be_bytes();
        // Bits that no byte takes must be none.
        match filled {
            0 => out.extend([a, b, c]),
            1 if c == 0 => out.extend([a, b]),
            2 if b == 0 && c == 0 => out.push(a),
            _ => return None,
        }
    }
    Some(out)
}

fn value(byte: u8) -> Option<u32> {
    Some(u32::from(match byte {
        b'A'..=b'Z' => byte - b'A',
        b'a'..=b'z' => byte - b'a' + 26,
        b'0'..=b'9' => byte - b'0' + 52,
        b'+' => 62,
        b'/' => 63,
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10.
    #[test]
    fn the_published_examples_are_read() {
        for (text, bytes) in [
            ("", ""),
            ("Zg==", "f"),
            ("Zm8=", "fo"),
            ("Zm9v", "foo"),
            ("Zm9vYg==", "foob"),
            ("Zm9vYmE=", "fooba"),
            ("Zm9vYmFy", "foobar"),
        ] {
            assert_eq!(decode(text).as_deref(), Some(bytes.as_bytes()), "{text}");
        }
    }

    #[test]
    fn whatever_is_written_otherwise_is_refused() {
        for text in [
            "Zg", "Zg=", "Zh==", "Zm9=", "Zg==Zg==", "Zm9 ", "====", "Z===", "Zm-v", "Zmé=",
        ] {
            assert_eq!(decode(text), None, "{text}");
        }
    }
}
