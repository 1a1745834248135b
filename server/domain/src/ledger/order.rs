//! What to cut, and what a cut did.

use super::{Flaw, Piece, Quantity, Rectangle};
use crate::quantity::{Micrometres, Millionths, QuantityError};
use crate::setting::{End, OffcutValue};

/// A panel narrower than the piece: the strip beside it is kept or waste.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Panel {
    /// Width of the panel.
    pub width: Micrometres,
    /// Keep the strip beside it.
    pub keep_strip: bool,
    /// What a kept strip is worth.
    pub strip_value: OffcutValue,
}

impl Panel {
    /// What it costs of the `value` of its length at the full width: all, or its share where a strip is kept that is worth its area.
    ///
    /// - Formula: `value × width ÷ full width`. Source: derived.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`].
    pub fn cost(self, value: Millionths, of: Rectangle) -> Result<Millionths, QuantityError> {
        match self.strip_value {
            OffcutValue::Area if self.keep_strip => value.share(self.width.get(), of.full.get()),
            OffcutValue::Area | OffcutValue::Zero => Ok(value),
        }
    }
}

/// What to cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutOrder {
    /// Length across the full width, or number of trims.
    pub quantity: Quantity,
    /// From which end of its stretch.
    pub end: End,
    /// Where it begins, from the outer end; overrides `end`.
    pub at: Option<Quantity>,
    /// The promise it is drawn from.
    pub reservation: Option<i64>,
    /// Nothing of the promise is needed any more.
    pub last: bool,
    /// Promises that may be cut into.
    pub may_break: Vec<i64>,
    /// A panel.
    pub panel: Option<Panel>,
    /// What is left behind the cut is waste if it is not longer than this and nothing is promised in it.
    pub waste_up_to: Quantity,
    /// What lies before the cut is waste if it is not longer than this and what was promised there fits behind the cut.
    pub outer_waste_up_to: Quantity,
}

impl CutOrder {
    /// A plain cut of free cloth from the outer end.
    #[must_use]
    pub const fn free(quantity: Quantity) -> Self {
        Self {
            quantity,
            end: End::Outer,
            at: None,
            reservation: None,
            last: false,
            may_break: Vec::new(),
            panel: None,
            waste_up_to: Quantity::ZERO,
            outer_waste_up_to: Quantity::ZERO,
        }
    }
}

/// What a cut did besides changing the piece.
///
/// It is taken back by `put_back` of the quantity cut and `wasted` together, worth `value` and the strip's value, at
/// the end `came_off` with `flaws`; then of `outer`, if there is one, at the outer end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CutEffect {
    /// Value of what was cut, waste included: for the garment or the loss.
    pub value: Millionths,
    /// Of the promise: how much was drawn from it.
    pub drawn: Quantity,
    /// Of the promise: how much is left of it. It is among `broken` if that no longer fits.
    pub still_held: Quantity,
    /// The strip beside a panel, kept as a piece of its own.
    pub strip: Option<Piece>,
    /// What lay before the cut, kept as a piece of its own with its flaws and promises.
    pub outer: Option<Piece>,
    /// What was left before and behind the cut and is waste.
    pub wasted: Quantity,
    /// Promises that no longer fit, in the order of rule 6.
    pub broken: Vec<i64>,
    /// From which end of the piece the cut came off, for taking it back; the outer one if the rest is waste.
    pub came_off: End,
    /// Flaws that were in what was cut or wasted, counted from its outer end.
    pub flaws: Vec<Flaw>,
}
