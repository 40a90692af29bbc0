//! Why a pack could not be composed: whose fault it is, and what to do. Knows no page.

use std::fmt;

/// Nothing is printed when any of these happens.
#[derive(Clone, Debug, PartialEq)]
pub enum ComposeError {
    /// The job says something with a character that no bundled font can print.
    NoGlyph { character: char, text: String },
    /// A drawing names a font family that is not bundled: its text would vanish.
    UnknownFamily { family: String, drawing: String },
    /// A drawing is larger than the frame it must be placed in at its exact size.
    Oversize { drawing: String },
    /// A board's picture cannot be decoded.
    Picture { path: String, why: String },
    /// A template failed: each message as typst gives it.
    Template { messages: Vec<String> },
}

impl ComposeError {
    /// Whether the project file can mend it; if not, it is rodbook's own fault.
    pub fn is_input(&self) -> bool {
        matches!(
            self,
            ComposeError::NoGlyph { .. } | ComposeError::Picture { .. }
        )
    }
}

impl fmt::Display for ComposeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ComposeError::NoGlyph { character, text } => write!(
                f,
                "the character '{}' (U+{:04X}) in '{}' cannot be printed: none of the bundled \
                 fonts has it. Write it in Latin, Greek or Cyrillic letters",
                character.escape_debug(),
                u32::from(*character),
                text.escape_debug(),
            ),
            ComposeError::UnknownFamily { family, drawing } => write!(
                f,
                "drawing '{drawing}' asks for the font '{family}', which is not bundled; its \
                 words would vanish. This is a fault in rodbook, not in your file"
            ),
            ComposeError::Oversize { drawing } => write!(
                f,
                "drawing '{drawing}' is larger than its sheet's frame. This is a fault in \
                 rodbook, not in your file"
            ),
            ComposeError::Picture { path, why } => {
                write!(f, "the picture {path} cannot be read: {why}")
            }
            ComposeError::Template { messages } => write!(
                f,
                "a page could not be laid out: {}. This is a fault in rodbook, not in your file",
                messages.join("; ")
            ),
        }
    }
}

impl std::error::Error for ComposeError {}
