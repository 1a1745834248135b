//! Why a pattern file was refused.

use ellwand_domain::lay::OutlineError;

/// Why a pattern file was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PatternError {
    /// More bytes than are read.
    #[error("a pattern file has at most 20 MB")]
    TooLarge,
    /// Not what it looks like.
    #[error("this is no {kind} that can be read: {why}")]
    Unreadable {
        /// SVG, DXF or TOML.
        kind: &'static str,
        /// What its reader says.
        why: String,
    },
    /// No outline in it.
    #[error("the file holds no closed outline of a part{0}")]
    NoPart(&'static str),
    /// More than a garment has.
    #[error("a pattern has at most {most} parts; this file has {0}", most = crate::drawn::MOST_PARTS)]
    TooMany(usize),
    /// Lengths without a unit.
    #[error("the file does not say in what unit it is drawn; {0}")]
    NoUnit(&'static str),
    /// Two parts of one name.
    #[error("two parts are called {0}; each has a name of its own")]
    Twice(String),
    /// Ends that do not meet.
    #[error("the outline of {part} is open: its ends are {gap_mm} mm apart")]
    Open {
        /// Which part.
        part: String,
        /// How far its ends are apart, in millimetres.
        gap_mm: String,
    },
    /// An outline that is none.
    #[error("{part}: {error}")]
    Outline {
        /// Which part.
        part: String,
        /// What is wrong with it.
        error: OutlineError,
    },
    /// A word that means something else.
    #[error("{part}: {key} is \"{value}\"; {expected}")]
    Word {
        /// Which part.
        part: String,
        /// Which key.
        key: &'static str,
        /// What stands there.
        value: String,
        /// What may stand there.
        expected: &'static str,
    },
    /// Half a part whose fold is no line of its own.
    #[error(
        "{0} is half drawn, and does not lie along its fold on one side, in one stretch: draw the half up to the fold, or the whole"
    )]
    Fold(String),
    /// Sizes that do not fit one another.
    #[error("{part} is drawn {drawn} and known to be {known}: its shape is another, not its scale")]
    Scale {
        /// Which part.
        part: String,
        /// Its size in the file.
        drawn: String,
        /// Its size as it is known.
        known: String,
    },
    /// A part that the file does not have.
    #[error("the file has no part called {asked}; it has {parts}")]
    NoSuchPart {
        /// The name that was asked for.
        asked: String,
        /// Those that there are.
        parts: String,
    },
}
