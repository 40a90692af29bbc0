//! The frozen job that travels in a pack: found in a PDF's attachments. Knows the structure of a PDF
//! (ISO 32000-2, 7.11: file specifications); must not know what a frozen job holds.

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Stream, String as Bytes};

/// What the attachment is called.
pub const NAME: &str = "frozen-job.json";

/// Longest attachment that is unpacked, packed.
const MOST_PACKED: usize = 16 << 20;

/// The text of the frozen job in a PDF.
///
/// # Errors
/// Why there is none to be had.
pub fn frozen_job(pdf: Vec<u8>) -> Result<String, String> {
    let pdf = Pdf::new(pdf).map_err(|_| "it is no readable PDF".to_owned())?;
    let xref = pdf.xref();
    let catalog: Dict<'_> = xref
        .get(xref.root_id())
        .ok_or_else(|| "it is no readable PDF".to_owned())?;
    let attached = catalog
        .get::<Array<'_>>(b"AF" as &[u8])
        .into_iter()
        .flat_map(|list| list.iter::<Dict<'_>>().collect::<Vec<_>>());
    for file in attached {
        let named = [b"UF" as &[u8], b"F"].into_iter().any(|key| {
            file.get::<Bytes<'_>>(key)
                .is_some_and(|name| is_ours(name.as_bytes()))
        });
        let stream = file.get::<Dict<'_>>(b"EF" as &[u8]).and_then(|held| {
            held.get::<Stream<'_>>(b"UF" as &[u8])
                .or_else(|| held.get::<Stream<'_>>(b"F" as &[u8]))
        });
        if let (true, Some(stream)) = (named, stream) {
            if stream.raw_data().len() > MOST_PACKED {
                return Err("its frozen job is larger than any".into());
            }
            let bytes = stream
                .decoded()
                .map_err(|_| "its frozen job cannot be unpacked".to_owned())?;
            return String::from_utf8(bytes.into_owned())
                .map_err(|_| "its frozen job is not UTF-8 text".into());
        }
    }
    Err("no frozen job travels in it: was it made by this program?".into())
}

/// As plain letters, or as the UTF-16 that PDF writes names in.
fn is_ours(name: &[u8]) -> bool {
    let plain: Vec<u8> = name.iter().copied().filter(|b| *b != 0).collect();
    plain == NAME.as_bytes() || plain.strip_prefix(b"\xfe\xff") == Some(NAME.as_bytes())
}
