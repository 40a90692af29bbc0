//! Pages to the bytes of a PDF: exported with the checks of PDF/A-3a and PDF/UA-1 on. Knows the file's
//! identity and date; must not know what is on a page, and claims no certificate.

use std::fmt;

use typst::foundations::{Datetime, Smart};
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards, Timestamp};

use crate::compose::Pages;

/// The export failed, each message as typst gives it: rodbook's own fault.
#[derive(Clone, Debug, PartialEq)]
pub struct PdfError {
    pub messages: Vec<String>,
}

impl fmt::Display for PdfError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "the PDF could not be written: {}. This is a fault in rodbook, not in your file",
            self.messages.join("; ")
        )
    }
}

impl std::error::Error for PdfError {}

/// The same pages give the same bytes: the identity is the job's and the pack's, the date the
/// job's, at midnight UTC.
///
/// # Errors
/// When the pages break a rule of either standard.
pub fn write(pages: &Pages) -> Result<Vec<u8>, PdfError> {
    let day = pages.date;
    let midnight = Datetime::from_ymd_hms(day.year.into(), day.month, day.day, 0, 0, 0);
    let standards =
        PdfStandards::new(&[PdfStandard::A_3a, PdfStandard::Ua_1]).map_err(|e| PdfError {
            messages: vec![e.message().to_string()],
        })?;
    let options = PdfOptions {
        ident: Smart::Custom(pages.identity.clone()),
        creator: Smart::Custom(Some(
            concat!("rodbook ", env!("CARGO_PKG_VERSION")).to_owned(),
        )),
        timestamp: midnight.map(Timestamp::new_utc),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(&pages.document, &options).map_err(|errors| PdfError {
        messages: errors
            .iter()
            .map(|e| {
                let hints: String = e.hints.iter().map(|h| format!(" ({})", h.v)).collect();
                format!("{}{hints}", e.message)
            })
            .collect(),
    })
}
