//! A signature on an entry, by Ed25519 (RFC 8032), and the text of a key. Knows keys and signatures; must
//! not know where a key is kept or where chance comes from.

use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};

use super::entry::Entry;

/// How a key's file begins.
const FORM: &str = "rodbook signing key 1: keep it to yourself";

/// The secret half, which signs.
pub struct Key(SigningKey);

impl Key {
    /// From 32 bytes of chance.
    pub fn new(seed: &[u8; 32]) -> Key {
        Key(SigningKey::from_bytes(seed))
    }

    /// As its file has it.
    pub fn text(&self) -> String {
        format!("{FORM}\n{}\n", hex(&self.0.to_bytes()))
    }

    /// Reads a key's file.
    ///
    /// # Errors
    /// In words: it is none.
    pub fn read(text: &str) -> Result<Key, String> {
        let mut lines = text.lines();
        let seed = match (lines.next(), lines.next(), lines.next()) {
            (Some(FORM), Some(digits), None) => bytes::<32>(digits),
            _ => None,
        };
        let seed = seed.ok_or("it is no signing key of this program")?;
        Ok(Key::new(&seed))
    }

    /// The public half in hexadecimal digits, by which the key is known.
    pub fn public(&self) -> String {
        hex(self.0.verifying_key().as_bytes())
    }

    /// Puts the key's name and signature on an entry.
    ///
    /// # Errors
    /// As [`Entry::line`].
    pub fn sign(&self, entry: &mut Entry) -> Result<(), String> {
        entry.key = Some(self.public());
        let text = entry.unsigned()?;
        entry.signature = Some(hex(&self.0.sign(text.as_bytes()).to_bytes()));
        Ok(())
    }
}

/// Whether an entry's signature is right, if it has one.
///
/// # Errors
/// In words: what is wrong with it.
pub fn check(entry: &Entry) -> Result<(), String> {
    let (key, signature) = match (&entry.key, &entry.signature) {
        (None, None) => return Ok(()),
        (Some(key), Some(signature)) => (key, signature),
        (Some(_), None) => return Err("its signature was taken off".into()),
        (None, Some(_)) => return Err("it is signed by no key".into()),
    };
    let text = entry.unsigned()?;
    match holds(key, signature, text.as_bytes()) {
        true => Ok(()),
        false => Err("its signature is not that of its key over this entry".into()),
    }
}

/// Whether a signature is that of a key over a text. Strict: a key or a signature of small order, which fits
/// more than one text, is none.
fn holds(key: &str, signature: &str, text: &[u8]) -> bool {
    let (Some(key), Some(signature)) = (bytes::<32>(key), bytes::<64>(signature)) else {
        return false;
    };
    let Ok(key) = VerifyingKey::from_bytes(&key) else {
        return false;
    };
    key.verify_strict(text, &Signature::from_bytes(&signature))
        .is_ok()
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// Lower-case digits, in full and no more.
fn bytes<const N: usize>(digits: &str) -> Option<[u8; N]> {
    let lower = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
    if digits.len() != N * 2 || !digits.bytes().all(lower) {
        return None;
    }
    let mut out = [0u8; N];
    for (n, byte) in out.iter_mut().enumerate() {
        *byte = u8::from_str_radix(digits.get(n * 2..n * 2 + 2)?, 16).ok()?;
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 8032, section 7.1, tests 1 to 3 (from memory): secret key, public key, message, signature.
    const PUBLISHED: &[(&str, &str, &str, &str)] = &[
        (
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ),
        (
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ),
        (
            "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
            "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
            "af82",
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        ),
    ];

    #[test]
    fn keys_and_signatures_are_the_published_ones() {
        for (secret, public, message, signature) in PUBLISHED {
            let key = Key::new(&bytes::<32>(secret).expect("32 bytes"));
            let message: Vec<u8> = (0..message.len() / 2)
                .map(|n| u8::from_str_radix(&message[n * 2..n * 2 + 2], 16).expect("digits"))
                .collect();
            assert_eq!(&key.public(), public);
            assert_eq!(&hex(&key.0.sign(&message).to_bytes()), signature);
            assert!(holds(public, signature, &message));
            let mut other = message.clone();
            other.push(0);
            assert!(!holds(public, signature, &other));
        }
    }

    #[test]
    fn a_keys_file_is_read_back_and_nothing_else_is() {
        let key = Key::new(&[7; 32]);
        let text = key.text();
        assert_eq!(Key::read(&text).expect("a key").public(), key.public());
        for wrong in [
            text.replace("key 1", "key 2"),
            text.replace('0', "g"),
            format!("{text}x"),
            String::new(),
        ] {
            assert!(Key::read(&wrong).is_err(), "{wrong}");
        }
    }
}
