//! What the next revision is called. Knows the two schemes a project may choose; must not know what is
//! in an issue.

use super::issue::Purpose;
use crate::read::words::Revisions;

/// Without I and O, which are taken for figures: common practice in drawing offices, no source.
const LETTERS: &[u8; 24] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

/// The revision after those already issued.
///
/// Numbered revisions begin with P while the job is up for approval and with C once it is agreed,
/// in the way of the national annex to ISO 19650-2 in the United Kingdom (from memory).
pub fn next(scheme: Revisions, purpose: Purpose, issued: &[String]) -> String {
    match scheme {
        Revisions::Letters => {
            let last = issued.iter().filter_map(|r| number_of(r)).max();
            letters(last.unwrap_or(0).saturating_add(1))
        }
        Revisions::Numbered => {
            let prefix = match purpose {
                Purpose::Approval => 'P',
                Purpose::Fitting | Purpose::Record => 'C',
            };
            let last = issued
                .iter()
                .filter_map(|r| r.strip_prefix(prefix)?.parse::<u32>().ok())
                .max();
            format!("{prefix}{:02}", last.unwrap_or(0).saturating_add(1))
        }
    }
}

/// 1 is A, 24 is Z, 25 is AA.
fn letters(mut n: u64) -> String {
    let mut out = Vec::new();
    while n > 0 {
        n -= 1;
        let at = usize::try_from(n % 24).unwrap_or(0);
        out.push(LETTERS.get(at).copied().unwrap_or(b'A'));
        n /= 24;
    }
    out.reverse();
    String::from_utf8(out).unwrap_or_default()
}

fn number_of(revision: &str) -> Option<u64> {
    if revision.is_empty() || revision.len() > 8 {
        return None;
    }
    revision.bytes().try_fold(0u64, |n, byte| {
        let at = LETTERS.iter().position(|l| *l == byte)?;
        Some(n * 24 + at as u64 + 1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(issued: &[&str], scheme: Revisions, purpose: Purpose) -> String {
        let issued: Vec<String> = issued.iter().map(|r| (*r).to_owned()).collect();
        next(scheme, purpose, &issued)
    }

    #[test]
    fn letters_leave_out_i_and_o_and_go_on_after_z() {
        let next = |issued: &[&str]| after(issued, Revisions::Letters, Purpose::Approval);
        assert_eq!(next(&[]), "A");
        assert_eq!(next(&["A", "H"]), "J");
        assert_eq!(next(&["N"]), "P");
        assert_eq!(next(&["Z", "B"]), "AA");
        assert_eq!(next(&["AZ"]), "BA");
        // What was numbered before the scheme was changed does not count.
        assert_eq!(next(&["P01", "C"]), "D");
    }

    #[test]
    fn numbers_are_counted_apart_for_approval_and_after() {
        let next = |purpose, issued: &[&str]| after(issued, Revisions::Numbered, purpose);
        assert_eq!(next(Purpose::Approval, &[]), "P01");
        assert_eq!(next(Purpose::Approval, &["P01", "C01", "P09"]), "P10");
        assert_eq!(next(Purpose::Fitting, &["P01", "P02"]), "C01");
        assert_eq!(next(Purpose::Record, &["C01", "C99"]), "C100");
    }
}
