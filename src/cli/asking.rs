//! The dialogue in which a designer says what came back signed. Knows questions and the shortest answers; must
//! not know how an answer is kept.

use std::io::{BufRead, Write};

use crate::app::signoff::Asked;
use crate::signoff::act::Given;
use crate::signoff::entry::Answer;

/// Both ends of a dialogue.
pub struct Dialogue<'a> {
    pub hears: &'a mut dyn BufRead,
    pub says: &'a mut dyn Write,
}

/// The other end has gone: nothing is recorded.
#[derive(Debug, PartialEq, Eq)]
pub struct Gone;

impl Dialogue<'_> {
    /// One line, or what is usual where it is empty.
    pub fn ask(&mut self, question: &str, usual: &str) -> Result<String, Gone> {
        let shown = match usual {
            "" => String::new(),
            usual => format!(" [{usual}]"),
        };
        let _ = write!(self.says, "{question}{shown}: ");
        let _ = self.says.flush();
        let mut line = String::new();
        match self.hears.read_line(&mut line) {
            Ok(0) | Err(_) => return Err(Gone),
            Ok(_) => {}
        }
        let line = line.trim();
        Ok(if line.is_empty() { usual } else { line }.to_owned())
    }

    /// One of several words, by as much of it as tells it from the others.
    fn word<'w>(
        &mut self,
        question: &str,
        words: &[&'w str],
        usual: &str,
    ) -> Result<&'w str, Gone> {
        loop {
            let said = self
                .ask(&format!("{question} ({})", words.join("/")), usual)?
                .to_lowercase();
            if let Some(exact) = words.iter().find(|w| w.to_lowercase() == said) {
                return Ok(exact);
            }
            let begins = |w: &&&str| !said.is_empty() && w.to_lowercase().starts_with(&said);
            let meant: Vec<&&str> = words.iter().filter(begins).collect();
            if let [one] = meant.as_slice() {
                return Ok(one);
            }
            let _ = writeln!(self.says, "  please say one of: {}", words.join(", "));
        }
    }

    pub fn yes(&mut self, question: &str, usual: bool) -> Result<bool, Gone> {
        let usual = if usual { "yes" } else { "no" };
        Ok(self.word(question, &["yes", "no"], usual)? == "yes")
    }

    /// Goes through all that is asked and not agreed yet.
    pub fn answers(&mut self, asked: &Asked) -> Result<Vec<Given>, Gone> {
        let open: Vec<_> = asked
            .subjects
            .iter()
            .filter(|(.., agreed)| !agreed)
            .collect();
        let settled = asked.subjects.len() - open.len();
        if settled > 0 {
            let _ = writeln!(self.says, "{settled} are agreed already and stand.");
        }
        let plain = open
            .iter()
            .filter(|(_, choices, _)| choices.is_empty())
            .count();
        let all = plain > 0
            && self.yes(
                &format!("Are all {plain} boxes without a choice initialled?"),
                true,
            )?;
        let mut given = Vec::new();
        for (subject, choices, _) in open {
            let named = subject.named();
            let (answer, option) = match (choices.is_empty(), all) {
                (true, true) => (Answer::Agreed, None),
                (true, false) => match self.word(
                    &format!("  {named}: agreed?"),
                    &["yes", "no", "left"],
                    "yes",
                )? {
                    "yes" => (Answer::Agreed, None),
                    "no" => (Answer::Declined, None),
                    _ => continue,
                },
                (false, _) => {
                    let _ = writeln!(self.says, "  {named}: which option?");
                    for choice in choices {
                        let _ = writeln!(self.says, "    {}: {}", choice.id, choice.words);
                    }
                    let mut words: Vec<&str> = choices.iter().map(|c| c.id.as_str()).collect();
                    words.extend(["declined", "left"]);
                    let usual = choices.iter().find(|c| c.usual);
                    let usual = usual.map_or("", |c| c.id.as_str());
                    match self.word("    chosen", &words, usual)? {
                        "left" => continue,
                        "declined" => (Answer::Declined, None),
                        id => (Answer::Chosen, Some(id.to_owned())),
                    }
                }
            };
            given.push(Given {
                subject: subject.key.clone(),
                answer,
                option,
                initials: String::new(),
                note: String::new(),
            });
        }
        Ok(given)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::{Subject, SubjectKind};
    use crate::signoff::act::Choice;

    fn asked() -> Asked {
        let subject = |kind: SubjectKind, id: &str| Subject {
            key: format!("{} {id}", kind.word()),
            kind,
            id: id.to_owned(),
            title: id.to_owned(),
            roles: vec!["client".to_owned()],
            hash: "0".repeat(64),
            choice: None,
        };
        let choice = |id: &str| Choice {
            id: id.to_owned(),
            words: format!("the {id} way"),
            usual: false,
        };
        Asked {
            revision: "A".to_owned(),
            signers: Vec::new(),
            subjects: vec![
                (subject(SubjectKind::Elevation, "one"), Vec::new(), false),
                (subject(SubjectKind::Elevation, "two"), Vec::new(), false),
                (subject(SubjectKind::Finish, "oil"), Vec::new(), true),
                (
                    subject(SubjectKind::Disclosure, "bow"),
                    vec![choice("nothing"), choice("stay")],
                    false,
                ),
            ],
        }
    }

    fn told(lines: &str) -> Result<Vec<(String, Answer, Option<String>)>, Gone> {
        let mut hears = lines.as_bytes();
        let mut says = Vec::new();
        let mut dialogue = Dialogue {
            hears: &mut hears,
            says: &mut says,
        };
        let given = dialogue.answers(&asked())?;
        Ok(given
            .into_iter()
            .map(|g| (g.subject, g.answer, g.option))
            .collect())
    }

    #[test]
    fn what_is_agreed_already_is_not_asked_and_a_choice_always_is() {
        let one = ("elevation one".to_owned(), Answer::Agreed, None);
        let two = ("elevation two".to_owned(), Answer::Agreed, None);
        let bow = (
            "disclosure bow".to_owned(),
            Answer::Chosen,
            Some("stay".to_owned()),
        );
        assert_eq!(told("\nstay\n"), Ok(vec![one.clone(), two, bow.clone()]));
        let declined = ("elevation two".to_owned(), Answer::Declined, None);
        assert_eq!(told("no\ny\nn\ns\n"), Ok(vec![one.clone(), declined, bow]));
        assert_eq!(told("n\nyes\nleft\nperhaps\nleft\n"), Ok(vec![one]));
    }

    #[test]
    fn who_goes_away_has_said_nothing() {
        assert_eq!(told("y\n"), Err(Gone));
        assert_eq!(told(""), Err(Gone));
    }
}
