//! Sizes of trims as they are typed, compared and shown.

use super::Ligne;
use crate::quantity::{Micrometres, QuantityError, parse::parse_length_up};
use serde::{Deserialize, Serialize};

/// Two sizes are the same within this: shop charts print 18 L (11.43 mm) as 11 or 11.5 mm (gentsshop.co.uk,
/// cxbuttons.com). In micrometres.
pub const TOLERANCE_UM: i64 = 500;

/// A size is near another within 2 L (common practice). In micrometres.
pub const NEAR_UM: i64 = 1_270;

/// From here on a size is a length, as of a zip, and no diameter: the largest button of the trade's tables is 60 L, 38.1 mm.
const LONG: Micrometres = Micrometres::from_mm(70);

/// The size of a trim: a diameter in ligne or in mm, a width, or the length of a zip.
///
/// ```
/// use ellwand_domain::trim::TrimSize;
/// let size: TrimSize = "24L".parse().unwrap();
/// assert_eq!(size.to_string(), "24 L = 15.24 mm");
/// assert!(size.same_as("15mm".parse().unwrap()));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct TrimSize {
    across: Micrometres,
    in_ligne: bool,
}

impl TrimSize {
    /// A size in millimetres and their like.
    #[must_use]
    pub const fn new(across: Micrometres) -> Self {
        Self {
            across,
            in_ligne: false,
        }
    }

    /// The same size, shown in ligne first where it is a whole number of them.
    #[must_use]
    pub fn shown_as(self, typed: &str) -> Self {
        Self {
            in_ligne: in_ligne(typed) && Ligne::of_exactly(self.across).is_some(),
            ..self
        }
    }

    /// Diameter, width or length.
    #[must_use]
    pub const fn across(self) -> Micrometres {
        self.across
    }

    /// True for what was typed in ligne.
    #[must_use]
    pub const fn in_ligne(self) -> bool {
        self.in_ligne
    }

    /// True for the length of a zip or the like.
    #[must_use]
    pub fn is_long(self) -> bool {
        self.across >= LONG
    }

    /// How far another size is off, whichever is the larger.
    #[must_use]
    pub const fn off(self, other: Self) -> Micrometres {
        let (a, b) = (self.across, other.across);
        if a.get() > b.get() {
            a.less(b)
        } else {
            b.less(a)
        }
    }

    /// True within [`TOLERANCE_UM`].
    #[must_use]
    pub fn same_as(self, other: Self) -> bool {
        self.off(other).get() <= TOLERANCE_UM
    }

    /// True within [`NEAR_UM`].
    #[must_use]
    pub const fn is_near(self, other: Self) -> bool {
        self.off(other).get() <= NEAR_UM
    }

    /// True for one that may stand in for it: within [`NEAR_UM`], or a longer zip for a zip, which can be shortened (common
    /// practice).
    #[must_use]
    pub fn may_stand_in_for(self, wanted: Self) -> bool {
        self.is_near(wanted) || self.is_longer_than(wanted)
    }

    /// True for a zip that is longer than the wanted one.
    #[must_use]
    pub fn is_longer_than(self, wanted: Self) -> bool {
        wanted.is_long() && self.across > wanted.across && !self.same_as(wanted)
    }
}

fn in_ligne(typed: &str) -> bool {
    let unit: String = typed.chars().filter(|c| c.is_alphabetic()).collect();
    matches!(unit.to_lowercase().as_str(), "l" | "ligne" | "lignes")
}

impl std::str::FromStr for TrimSize {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let across = parse_length_up(text)?;
        if across.is_zero() {
            return Err(QuantityError::NotPositive {
                text: text.to_owned(),
            });
        }
        Ok(Self::new(across).shown_as(text))
    }
}

/// Both ways for what may be a button: `24 L = 15.24 mm`, `15 mm = 23.6 L`; a zip in cm alone: `55 cm`.
impl std::fmt::Display for TrimSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let um = self.across.get();
        if self.is_long() {
            return write!(f, "{} cm", decimal(um, 4));
        }
        let mm = decimal(um, 3);
        match Ligne::of_exactly(self.across).filter(|_| self.in_ligne) {
            Some(ligne) => write!(f, "{ligne} = {mm} mm"),
            None => write!(f, "{mm} mm = {} L", Ligne::decimal_of(self.across)),
        }
    }
}

/// `um` with so many decimal places, zeros at the end left out.
fn decimal(um: i64, places: usize) -> String {
    let digits = format!("{um:0width$}", width = places.saturating_add(1));
    let (whole, fraction) = digits.split_at(digits.len().saturating_sub(places));
    let fraction = fraction.trim_end_matches('0');
    if fraction.is_empty() {
        whole.to_owned()
    } else {
        format!("{whole}.{fraction}")
    }
}
