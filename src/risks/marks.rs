//! What a drawing calls a finding: for a client the number of the risk that it raises, or of the list of what
//! else was found, which counts on from the risks; for all others its place among the findings. Knows who
//! is told what; must not know where on a drawing it stands.

use super::{CLIENT, Risks, risks, rules};
use crate::diag::Diagnostics;
use crate::reckon::placed::Reckoned;
use crate::resolve::job::{Job, Reader};

#[derive(Clone, Debug)]
pub struct Marks {
    /// By finding, for a client: its number, and whether it is a risk's. `None`: he is not told.
    client: Vec<Option<(usize, bool)>>,
    /// By clash, its finding.
    of_clash: Vec<Option<usize>>,
}

impl Marks {
    /// Of a drawing that marks none.
    pub const NONE: Marks = Marks {
        client: Vec::new(),
        of_clash: Vec::new(),
    };

    pub fn of(job: &Job, reckoned: &Reckoned) -> Marks {
        Marks::new(reckoned, &risks(job, reckoned, &mut Diagnostics::default()))
    }

    pub fn new(reckoned: &Reckoned, risks: &Risks) -> Marks {
        let of_risk = |n: usize| {
            let mut own = risks.of(CLIENT);
            own.find(|d| d.findings.contains(&n)).map(|d| d.number)
        };
        let mut last = risks.of(CLIENT).count();
        let client = reckoned.findings.iter().enumerate().map(|(n, f)| {
            let risk = of_risk(n);
            if risk.is_none() && f.is_for_client() && !rules::takes(f.code) {
                last += 1;
                return Some((last, false));
            }
            risk.map(|number| (number, true))
        });
        let found =
            |c: &crate::reckon::placed::Clash| reckoned.findings.iter().position(|f| c.is(f));
        Marks {
            client: client.collect(),
            of_clash: reckoned.clashes.iter().map(found).collect(),
        }
    }

    /// Findings that a client is told in a list and not as a risk, each with its number.
    pub fn listed(&self) -> impl Iterator<Item = (usize, usize)> {
        let all = self.client.iter().enumerate();
        all.filter_map(|(n, mark)| mark.filter(|m| !m.1).map(|m| (n, m.0)))
    }

    /// Of a finding; `None` where this reader is not told of it.
    pub fn number(&self, reader: Reader, finding: usize) -> Option<usize> {
        match reader {
            Reader::Client => self.client.get(finding).copied().flatten().map(|m| m.0),
            _ => Some(finding + 1),
        }
    }

    pub fn of_clash(&self, clash: usize) -> Option<usize> {
        self.of_clash.get(clash).copied().flatten()
    }

    /// `risk 4`, `risks 1, 4`, `no. 16`; for all but clients `findings 3, 4`. Nothing where this reader is
    /// told of none of them.
    pub fn words(&self, reader: Reader, findings: &[usize]) -> Option<String> {
        let mut numbers: Vec<usize> = findings
            .iter()
            .filter_map(|n| self.number(reader, *n))
            .collect();
        numbers.sort_unstable();
        numbers.dedup();
        let is_risk = |n: &usize| self.client.iter().flatten().any(|m| m.1 && m.0 == *n);
        let many = numbers.len() > 1;
        let word = match (reader, numbers.iter().all(is_risk)) {
            (Reader::Client, true) if many => "risks",
            (Reader::Client, true) => "risk",
            (Reader::Client, false) => "no.",
            _ if many => "findings",
            _ => "finding",
        };
        let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
        (!numbers.is_empty()).then(|| format!("{word} {}", numbers.join(", ")))
    }
}
