//! Time of work.

use ellwand_domain::quantity::Minutes;

/// `2 h 30 min`; the book's minutes are within the range of [`Minutes`].
#[must_use]
pub fn minutes(minutes: i64) -> String {
    Minutes::new(minutes).map_or_else(|_| format!("{minutes} min"), |minutes| minutes.to_string())
}
