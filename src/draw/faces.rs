//! Photographs in drawings: named while a drawing is placed and written, put in at the end. Knows how
//! SVG carries bytes; must not know what they show.

use crate::faces::Faces;

const NAME: &str = "face:";

/// What stands for a picture until [`put_in`] does.
pub fn name(at: u32) -> String {
    format!("{NAME}{at}")
}

/// The same SVG with each picture it names inside it.
pub fn put_in(svg: &str, faces: &Faces) -> String {
    let mark = format!("href=\"{NAME}");
    let mut out = String::with_capacity(svg.len());
    let mut pieces = svg.split(mark.as_str());
    out.push_str(pieces.next().unwrap_or_default());
    for piece in pieces {
        let (number, rest) = piece.split_once('"').unwrap_or((piece, ""));
        let at = number.parse::<usize>().ok();
        out.push_str("href=\"data:image/jpeg;base64,");
        if let Some(bytes) = at.and_then(|at| faces.pictures.get(at)) {
            base64(bytes, &mut out);
        }
        out.push('"');
        out.push_str(rest);
    }
    out
}

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// RFC 4648 §4.
pub fn base64(bytes: &[u8], out: &mut String) {
    out.reserve(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let byte = |n: usize| u32::from(chunk.get(n).copied().unwrap_or(0));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for n in 0..4 {
            let letter = LETTERS.get((bits >> (18 - 6 * n) & 63) as usize);
            match letter {
                Some(l) if n <= chunk.len() => out.push(char::from(*l)),
                _ => out.push('='),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // RFC 4648 §10, its test vectors.
    #[test]
    fn bytes_are_written_as_the_standard_says() {
        let vectors = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (plain, coded) in vectors {
            let mut out = String::new();
            base64(plain.as_bytes(), &mut out);
            assert_eq!(out, coded);
        }
    }

    #[test]
    fn a_name_becomes_the_picture() {
        let mut faces = Faces::default();
        faces.pictures = vec![b"no".as_slice().into(), b"foo".as_slice().into()];
        let svg = format!("<image href=\"{}\" x=\"1\"/><rect/>", name(1));
        let said = put_in(&svg, &faces);
        assert_eq!(
            said,
            "<image href=\"data:image/jpeg;base64,Zm9v\" x=\"1\"/><rect/>"
        );
    }
}
