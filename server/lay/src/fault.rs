//! Why parts cannot be laid.

use ellwand_domain::{
    lay::LayError,
    quantity::{Micrometres, Units},
};

/// Most parts that are laid together, each as often as it is cut.
///
/// About twenty garments of twenty parts. With more, the default budget would move each part less than once a round, and the losses
/// of all pairs (their number is the square) no longer stay in the processor's cache.
pub const MOST_PARTS: usize = 400;

/// Why parts cannot be laid.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LayFault {
    /// No part at all.
    #[error("there is nothing to lay")]
    Nothing,
    /// More parts than are laid together.
    #[error("{0} parts are more than are laid together: at most {MOST_PARTS}")]
    TooMany(i64),
    /// A part that does not fit in any direction that its grain and the cloth allow.
    #[error("{name} is {} wide, and the cloth {}", .width.show_width(Units::Metric), .usable.show_width(Units::Metric))]
    TooWide {
        /// Which part.
        name: String,
        /// Its least width in a direction that is allowed.
        width: Micrometres,
        /// Usable width of the cloth.
        usable: Micrometres,
    },
    /// The cloth ends before the parts do.
    #[error("the parts take {}, and the cloth is {} long", .needed.show(Units::Metric), .length.show(Units::Metric))]
    TooShort {
        /// The shortest lay that was found.
        needed: Micrometres,
        /// Length of the cloth.
        length: Micrometres,
    },
    /// Refused by the check of lays.
    #[error(transparent)]
    Lay(#[from] LayError),
}
