//! The button maker's line: 40 to an inch.

use crate::quantity::{Micrometres, QuantityError, exact};
use std::fmt;

/// Micrometres in a ligne: exactly 25 400 / 40.
const UM: i64 = 635;

/// The button sizes that trade tables list, in ligne, small to large.
///
/// Source: sizes.com and workroombuttons.com for the sizes, sungwonbutton.com for their uses.
pub const STOCKED: [Ligne; 15] = [
    Ligne(14),
    Ligne(15),
    Ligne(16),
    Ligne(18),
    Ligne(20),
    Ligne(22),
    Ligne(24),
    Ligne(28),
    Ligne(30),
    Ligne(32),
    Ligne(34),
    Ligne(36),
    Ligne(40),
    Ligne(50),
    Ligne(60),
];

/// A diameter in whole ligne.
///
/// - Units: 40 L = 1 in, so that 1 L = 0.635 mm, exactly. Neither the British line (1/12 in) nor the old French ligne
///   (2.2558 mm).
/// - Source: sizes.com; workroombuttons.com.
///
/// ```
/// use ellwand_domain::trim::Ligne;
/// assert_eq!(Ligne::new(24).unwrap().across().unwrap().get(), 15_240);
/// assert_eq!(Ligne::new(24).unwrap().to_string(), "24 L");
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ligne(i64);

impl Ligne {
    /// So many ligne; `None` below one.
    #[must_use]
    pub const fn new(lignes: i64) -> Option<Self> {
        if lignes < 1 { None } else { Some(Self(lignes)) }
    }

    /// The number of ligne.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// Diameter, exact.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] or [`QuantityError::TooLarge`] beyond the longest length.
    pub fn across(self) -> Result<Micrometres, QuantityError> {
        Micrometres::new(exact::mul_div_floor(self.0, UM, 1)?)
    }

    /// The ligne size of a diameter that is one exactly.
    #[must_use]
    pub fn of_exactly(across: Micrometres) -> Option<Self> {
        (across.get() % UM == 0)
            .then(|| Self::new(across.get() / UM))
            .flatten()
    }

    /// A diameter in ligne with one decimal, rounded half up: `23.6` for 15 mm.
    #[must_use]
    pub fn decimal_of(across: Micrometres) -> String {
        // No length is so long that its tenths of a ligne overflow.
        let tenths = exact::mul_div_nearest(across.get(), 10, UM).unwrap_or(i64::MAX);
        format!("{}.{}", tenths / 10, tenths % 10)
    }
}

impl fmt::Display for Ligne {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} L", self.0)
    }
}

/// Of these sizes the nearest to a diameter, the smaller of two that are as near; `None` of none.
///
/// ```
/// use ellwand_domain::{quantity::Micrometres, trim::{STOCKED, nearest}};
/// let fifteen = Micrometres::from_mm(15);
/// assert_eq!(nearest(fifteen, STOCKED).unwrap().get(), 24);
/// ```
#[must_use]
pub fn nearest(wanted: Micrometres, sizes: impl IntoIterator<Item = Ligne>) -> Option<Ligne> {
    let off = |size: &Ligne| size.0.saturating_mul(UM).abs_diff(wanted.get());
    sizes.into_iter().min_by_key(|size| (off(size), *size))
}
