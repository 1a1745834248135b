//! Why an outline or a lay was refused.

use super::{
    FORMAT, Turn,
    check::MOST_LENGTH,
    cloth::MOST_SPACING,
    outline::{MOST_CORNERS, MOST_REACH},
};
use crate::quantity::{Micrometres, Units};

/// Why an outline was refused; corners and edges count from 1, and edge 1 runs from corner 1 to corner 2.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum OutlineError {
    /// Fewer than three corners.
    #[error("an outline has at least 3 corners, not {0}")]
    TooFew(usize),
    /// More corners than are drawn.
    #[error("an outline has at most {MOST_CORNERS} corners, not {0}")]
    TooMany(usize),
    /// A corner beyond what is cut in one.
    #[error("corner {0} lies beyond {reach} of the outline's origin", reach = MOST_REACH.show(Units::Metric))]
    TooFar(usize),
    /// Two corners in one place.
    #[error("corners {0} and {1} are in one place")]
    Doubled(usize, usize),
    /// All corners lie on one line.
    #[error("all corners lie on one line: the outline has no area")]
    NoArea,
    /// It crosses or touches itself.
    #[error("edges {0} and {1} meet: an outline does not cross or touch itself")]
    Crosses(usize, usize),
    /// Kept in a form that is not known.
    #[error("outlines and lays of format {0} are not known; this is format {FORMAT}")]
    Format(u32),
}

/// Why a lay was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LayError {
    /// A part that is not on the list.
    #[error("placement {placement} is of part {part}, and there are {parts}")]
    NoSuchPart {
        /// Which placement, from 1.
        placement: usize,
        /// Part named, from 1.
        part: usize,
        /// How many there are.
        parts: usize,
    },
    /// Not as often as it is cut.
    #[error("{name} is cut {count} times and lies there {placed} times")]
    Count {
        /// Which part.
        name: String,
        /// How often it is cut.
        count: i64,
        /// How often it lies there.
        placed: i64,
    },
    /// Against its grain or the cloth's direction.
    #[error("{name} is turned by {turn}, which its grain on this cloth does not allow")]
    Direction {
        /// Which part.
        name: String,
        /// How it is turned.
        turn: Turn,
    },
    /// Face down, and it must not be.
    #[error("{name} lies face down, and must not be turned over")]
    Flipped {
        /// Which part.
        name: String,
    },
    /// Over an edge of the cloth.
    #[error("{name} reaches beyond the cloth, which is {} wide{}", .usable.show_width(Units::Metric), length_text(.length.as_ref()))]
    Outside {
        /// Which part.
        name: String,
        /// Usable width of the cloth.
        usable: Micrometres,
        /// Its length, where it ends.
        length: Option<Micrometres>,
    },
    /// One over another.
    #[error("{one} and {other} overlap")]
    Overlap {
        /// One part.
        one: String,
        /// The other.
        other: String,
    },
    /// Nearer to one another than was asked.
    #[error("{one} and {other} are nearer to one another than {}", .spacing.show_width(Units::Metric))]
    TooNear {
        /// One part.
        one: String,
        /// The other.
        other: String,
        /// Least gap.
        spacing: Micrometres,
    },
    /// Cloth of no width, or beyond what is laid.
    #[error(
        "a lay is up to {} long and {} wide, with up to {} between its parts",
        MOST_LENGTH.show(Units::Metric), MOST_REACH.show(Units::Metric), MOST_SPACING.show(Units::Metric)
    )]
    Cloth,
    /// An outline that cannot be turned so, or is kept in another form.
    #[error(transparent)]
    Outline(#[from] OutlineError),
}

fn length_text(length: Option<&Micrometres>) -> String {
    length.map_or_else(String::new, |length| {
        format!(" and {} long", length.show(Units::Metric))
    })
}
