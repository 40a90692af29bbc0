//! What is wrong with the input, and where. Knows places in a text and how a message is built;
//! knows nothing of furniture and prints nothing itself: `render` makes text or JSON of it.

mod render;

pub use render::{as_json, as_text};

use serde::Serialize;

/// Where in the project file a value stands: a byte range, or nowhere when a default stands in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Default, Hash)]
pub struct Place(pub Option<(usize, usize)>);

impl Place {
    pub const NOWHERE: Place = Place(None);

    pub fn span(start: usize, end: usize) -> Place {
        Place(Some((start, end)))
    }

    pub fn start(self) -> usize {
        self.0.map_or(usize::MAX, |(start, _)| start)
    }
}

impl From<std::ops::Range<usize>> for Place {
    fn from(range: std::ops::Range<usize>) -> Place {
        Place(Some((range.start, range.end)))
    }
}

/// One thing wrong with the input: every kind has a code, which is stable for ever, and a
/// reproducer among the tests.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    pub code: Code,
    /// What is wrong, as a sentence without a full stop.
    pub message: String,
    pub place: Place,
    /// Said beside the underlined value; may be empty.
    pub label: String,
    /// Another place that matters, with what is there.
    pub also: Option<(Place, String)>,
    /// What to do.
    pub help: String,
}

impl Diagnostic {
    pub fn new(code: Code, place: Place, message: impl Into<String>) -> Diagnostic {
        Diagnostic {
            code,
            message: message.into(),
            place,
            label: String::new(),
            also: None,
            help: String::new(),
        }
    }
    pub fn label(mut self, label: impl Into<String>) -> Diagnostic {
        self.label = label.into();
        self
    }
    pub fn help(mut self, help: impl Into<String>) -> Diagnostic {
        self.help = help.into();
        self
    }
    pub fn also(mut self, place: Place, what: impl Into<String>) -> Diagnostic {
        self.also = Some((place, what.into()));
        self
    }
}

macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $text:literal,)+) => {
        /// Every kind of wrong input, named after the fault.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash)]
        pub enum Code { $($(#[doc = $doc])+ $name,)+ }

        impl Code {
            pub const ALL: &'static [Code] = &[$(Code::$name,)+];
            /// As printed and as its reproducer's file is called.
            pub fn text(self) -> &'static str {
                match self { $(Code::$name => $text,)+ }
            }
        }
    };
}

codes! {
    /// The file is not there or cannot be opened.
    FileAbsent = "file-absent",
    /// The file has nothing in it.
    FileEmpty = "file-empty",
    /// The file is not UTF-8 text.
    NotUtf8 = "not-utf8",
    /// The file is not TOML.
    Syntax = "syntax",
    /// No such key in this table.
    UnknownKey = "unknown-key",
    /// A value of another type than the key takes.
    WrongType = "wrong-type",
    /// A word that is none of the choices.
    WrongWord = "wrong-word",
    /// A key that must be there is not.
    MissingKey = "missing-key",
    /// Two things of one id.
    DuplicateId = "duplicate-id",
    /// Refers to something that is not in the file.
    DanglingReference = "dangling-reference",
    /// A size below or above what can be.
    AbsurdSize = "absurd-size",
    /// A text with a character that no bundled font can print.
    NoGlyph = "no-glyph",
    /// Written for another version of the format.
    WrongVersion = "wrong-version",
    /// Keys that contradict one another.
    Contradiction = "contradiction",
    /// Survey points out of order or off the wall.
    SurveyPoints = "survey-points",
    /// The units are wider than their opening.
    UnitsTooWide = "units-too-wide",
    /// A unit, bay or front with no size left for it.
    NoRoom = "no-room",
    /// The fronts do not fill their unit.
    FrontsTooSmall = "fronts-too-small",
    /// The fronts are larger than their unit.
    FrontsTooLarge = "fronts-too-large",
    /// Stands partly off its wall, or where something else stands.
    OffTheWall = "off-the-wall",
    /// A picture that is missing or cannot be read.
    BadPicture = "bad-picture",
    /// A finding is said to be known that was not found.
    NotFound = "not-found",
    /// A finding is said to be known that blocks the job, whatever the reason.
    MustBeSettled = "must-be-settled",
    /// A price that is no amount of money.
    NotAnAmount = "not-an-amount",
    /// Said of a risk that is not raised.
    RiskNotRaised = "risk-not-raised",
}

/// Collects everything wrong in one run.
#[derive(Clone, Debug, Default)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
}

impl Diagnostics {
    pub fn push(&mut self, d: Diagnostic) {
        if !self.list.contains(&d) {
            self.list.push(d);
        }
    }

    /// Whether what is wrong leaves every size as it was meant, so that reckoning on finds only
    /// true faults.
    pub fn sizes_can_be_trusted(&self) -> bool {
        let harmless = [
            Code::UnknownKey,
            Code::NoGlyph,
            Code::BadPicture,
            Code::NotAnAmount,
        ];
        self.list.iter().all(|d| harmless.contains(&d.code))
    }

    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether a value that stands there could not be read.
    pub fn has_unread_within(&self, place: Place) -> bool {
        let inside = |d: &Diagnostic| match (place.0, d.place.0) {
            (Some((from, to)), Some((start, end))) => from <= start && end <= to,
            _ => false,
        };
        let mut unread = self.list.iter().filter(|d| d.code != Code::UnknownKey);
        unread.any(inside)
    }

    /// In order of their place in the file.
    pub fn sorted(mut self) -> Vec<Diagnostic> {
        self.list.sort_by(|a, b| {
            (a.place.start(), a.code, &a.message).cmp(&(b.place.start(), b.code, &b.message))
        });
        self.list
    }
}

/// Line and column (from 1, in characters) of a byte offset.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize)]
pub struct LineColumn {
    pub line: usize,
    pub column: usize,
}

pub fn line_column(source: &str, offset: usize) -> LineColumn {
    let upto = &source[..source.floor_char_boundary(offset)];
    let line = upto.matches('\n').count() + 1;
    let column = upto.rsplit('\n').next().unwrap_or("").chars().count() + 1;
    LineColumn { line, column }
}
