//! What the templates are given: words already worded, numbers already written. Must hold nothing a
//! template would have to work out; widths are in mm of paper.

use serde::Serialize;

use super::fit;
pub use super::table::{Align, Table};

/// Size in points of running words and of tables.
pub const BODY: f64 = 10.5;
pub const SMALL: f64 = 9.0;
/// Width of a text page between its margins: A4 less 20 and 15.
pub const TEXT_WIDTH: f64 = 175.0;

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PackData {
    pub document: Document,
    pub foot: Foot,
    pub margin: Margin,
    /// The frozen job that travels in the pack.
    pub frozen: Option<Attached>,
    pub title_block: TitleBlock,
    pub sheets: Vec<Sheet>,
}

/// The file's own particulars.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Document {
    pub title: String,
    pub author: String,
    pub keywords: Vec<String>,
    pub lang: String,
    pub region: Option<String>,
    /// Year, month, day, when they are a day of the calendar.
    pub date: Option<(u16, u8, u8)>,
}

/// What stands in the filing margin of every page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Margin {
    /// Says that this is a draft, and of what.
    pub watermark: Option<String>,
    /// How the pictures of the pages' codes begin.
    pub code: Option<String>,
    /// Side of a code, mm.
    pub side: f64,
    /// Of the pack, before the page's number.
    pub letter: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Attached {
    pub path: String,
    pub about: String,
}

/// The line at the foot of every text page.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Foot {
    pub job: String,
    pub pack: String,
    pub revision: String,
    pub status: String,
    pub date: String,
}

/// The fields of ISO 7200 that are the same on every drawing.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct TitleBlock {
    /// What ISO 7200's "legal owner" is called to this reader.
    pub owner_label: String,
    pub owner: String,
    pub creator: String,
    pub approval: String,
    /// Before the number of the sheet.
    pub number: String,
    pub revision: String,
    /// The issues so far, the newest first, in a line each.
    pub revisions: Vec<String>,
    /// Of what: a draft has no day of issue.
    pub date_label: String,
    pub date: String,
    pub language: String,
    pub status: String,
    pub advice: Vec<String>,
}

/// One or more pages that share their paper.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "template", rename_all = "snake_case")]
pub enum Sheet {
    Cover(Cover),
    Text {
        sections: Vec<Section>,
    },
    /// Text with marks in its corners, by which a scan of what is written on it is put right.
    Sign {
        sections: Vec<Section>,
    },
    Drawing(DrawingSheet),
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cover {
    pub workshop: String,
    pub title: String,
    pub pack: String,
    pub status: String,
    pub facts: Vec<(String, String)>,
    pub sections: Vec<Section>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Section {
    /// Stable, also the name of its link target.
    pub id: String,
    pub title: String,
    pub level: u8,
    /// Whether it begins a page of its own.
    pub fresh: bool,
    /// Whether the contents list it.
    pub listed: bool,
    pub blocks: Vec<Block>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "block", rename_all = "snake_case")]
pub enum Block {
    Paragraph {
        text: String,
    },
    /// Within a section, and not in the contents.
    Heading {
        text: String,
    },
    List {
        ordered: bool,
        items: Vec<String>,
    },
    /// A bold word or two, then what it means.
    Terms {
        items: Vec<(String, String)>,
    },
    Caution {
        title: String,
        text: String,
    },
    Table(Table),
    /// The pack's drawings, each with its sheet, which only the layout knows.
    Register {
        table: Table,
        targets: Vec<String>,
    },
    /// Rows whose last cell is the pages on which these labels stand.
    Marked {
        table: Table,
        targets: Vec<Vec<String>>,
    },
    /// What the pages are called, and how many lines that comes to.
    Contents {
        lines: usize,
    },
    Board(Board),
    Risk(Risk),
    Initials(Initials),
    Picture(Picture),
    /// A line for each person: name and role, then room to sign, for the place and the day.
    Signatures {
        people: Vec<(String, String)>,
    },
    Signature {
        name: String,
        role: String,
    },
}

impl Block {
    pub fn paragraph(text: impl AsRef<str>) -> Block {
        Block::Paragraph {
            text: running(text.as_ref(), TEXT_WIDTH),
        }
    }

    pub fn heading(text: &str) -> Block {
        Block::Heading {
            text: text.to_owned(),
        }
    }

    /// One paragraph for each written with a blank line before it.
    pub fn paragraphs(text: &str) -> Vec<Block> {
        fit::paragraphs(text).iter().map(Block::paragraph).collect()
    }

    pub fn list(ordered: bool, items: impl IntoIterator<Item = impl AsRef<str>>) -> Block {
        let items = items
            .into_iter()
            .map(|i| running(i.as_ref(), TEXT_WIDTH - 10.0));
        Block::List {
            ordered,
            items: items.collect(),
        }
    }

    pub fn terms<T: AsRef<str>, U: AsRef<str>>(items: impl IntoIterator<Item = (T, U)>) -> Block {
        let items = items.into_iter();
        let items = items.map(|(t, u)| (running(t.as_ref(), 38.0), running(u.as_ref(), 130.0)));
        Block::Terms {
            items: items.collect(),
        }
    }

    pub fn caution(title: &str, text: impl AsRef<str>) -> Block {
        Block::Caution {
            title: title.to_owned(),
            text: running(text.as_ref(), TEXT_WIDTH - 8.0),
        }
    }
}

/// Words at body size that may run over several lines of `width` mm.
pub fn running(text: &str, width: f64) -> String {
    fit::breakable(&fit::clean(text), width, BODY, true)
}

/// What may go wrong, and what can be chosen about it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Risk {
    /// Its link target, after `disclosure `.
    pub id: String,
    pub number: String,
    pub title: String,
    pub text: String,
    pub facts: Vec<(String, String)>,
    pub keys: Vec<KeyPicture>,
    /// Over the options.
    pub lead: String,
    pub options: Vec<RiskOption>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KeyPicture {
    pub path: String,
    pub alt: String,
    pub caption: String,
    pub width: f64,
    pub height: f64,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RiskOption {
    /// `a`.
    pub letter: String,
    pub chosen: bool,
    pub words: String,
    /// When it may be called, until when, where it stands; may be empty.
    pub detail: String,
    pub price: String,
    /// What the price was in the newest issue, if it is another now.
    pub price_was: Option<String>,
}

/// Subjects that one person agrees to, each with a box for initials.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Initials {
    pub lines: Vec<InitialsLine>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InitialsLine {
    pub subject: String,
    /// What was chosen, or where to choose it; may be empty.
    pub detail: String,
    /// Labels of the pages that it stands on.
    pub targets: Vec<String>,
}

/// Something that was taken into the record, at its size on paper in mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Picture {
    pub path: String,
    pub alt: String,
    pub caption: String,
    pub width: f64,
    pub height: f64,
}

/// A board's face and what to know of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Board {
    pub title: String,
    pub picture: Option<Swatch>,
    /// Term, meaning, and what the meaning was in the newest issue, where it is otherwise now.
    pub facts: Vec<(String, String, Option<String>)>,
    /// Drawings that show it: in what way, and which.
    pub drawings: Vec<(String, String)>,
}

/// A picture of a board's face or of a unit, at its size on paper in mm.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Swatch {
    pub path: String,
    pub alt: String,
    pub caption: String,
    pub width: f64,
    pub height: f64,
    /// Of the column it stands in, mm.
    pub column: f64,
    /// Stands to the right of the facts, without a frame.
    pub right: bool,
}

/// A drawing on its sheet. Sizes in mm of paper.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DrawingSheet {
    /// What the register of drawings links to.
    pub id: String,
    /// Whether the contents name it: of one in parts the first.
    pub listed: bool,
    pub title: String,
    /// Points.
    pub title_size: f64,
    /// ISO 7200's supplementary title.
    pub below: String,
    pub alt: String,
    pub path: String,
    pub width: f64,
    pub height: f64,
    pub scale: String,
    pub paper: String,
    pub paper_width: f64,
    pub paper_height: f64,
    /// ISO 7200's document type.
    pub kind: String,
}
