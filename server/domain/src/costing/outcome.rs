//! From what was quoted to what it did cost, line by line. Positive is unfavourable.

use super::{CostError, LineKind, LossLine, LossReason, MAX_BATCH};
use crate::quantity::{Millionths, QuantityError};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What a difference between quoted and actual cost comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum VarianceKind {
    /// Another number of good garments than was quoted, at what each was quoted at.
    NumberMade,
    /// Material at another price: (AP − SP) × AQ.
    MaterialPrice,
    /// More or less material than was allowed for what was made: (AQ − SQ) × SP.
    MaterialQuantity,
    /// Hours at another rate: (AR − SR) × AH.
    LabourRate,
    /// More or less time than was allowed for what was made: (AH − SH) × SR.
    LabourTime,
    /// Overhead at another rate than the quoted one, on the hours worked.
    OverheadRate,
    /// Overhead on the hours beyond those allowed for what was made, at the quoted rate.
    OverheadOnExtraHours,
    /// Cost that nothing was quoted for.
    NotQuoted,
    /// Quoted, and nothing of it spent while the garment is not finished.
    NotSpentYet,
    /// A line without an exact quantity on both sides in one unit: its whole difference.
    NotToldApart,
    /// The maker's own mistake, in cloth, time and the overhead on it.
    OwnMistake,
    /// Faulty cloth.
    FaultyCloth,
    /// What the customer wanted otherwise.
    CustomerChange,
}

impl fmt::Display for VarianceKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::NumberMade => "number made",
            Self::MaterialPrice => "price",
            Self::MaterialQuantity => "quantity",
            Self::LabourRate | Self::OverheadRate => "rate",
            Self::LabourTime => "time",
            Self::OverheadOnExtraHours => "extra hours",
            Self::NotQuoted => "not quoted",
            Self::NotSpentYet => "not spent yet",
            Self::NotToldApart => "not told apart",
            Self::OwnMistake => "own mistake",
            Self::FaultyCloth => "faulty cloth",
            Self::CustomerChange => "customer's change",
        })
    }
}

impl VarianceKind {
    /// The two that a line of this kind is told apart into: by quantity, by price.
    const fn of_line(kind: LineKind) -> (Self, Self) {
        match kind {
            LineKind::Material => (Self::MaterialQuantity, Self::MaterialPrice),
            LineKind::Labour => (Self::LabourTime, Self::LabourRate),
            LineKind::Overhead => (Self::OverheadOnExtraHours, Self::OverheadRate),
        }
    }

    const fn of_loss(reason: LossReason) -> Self {
        match reason {
            LossReason::OwnMistake => Self::OwnMistake,
            LossReason::FaultyCloth => Self::FaultyCloth,
            LossReason::CustomerChange => Self::CustomerChange,
        }
    }
}

/// A cost and its quantity: micrometres, pieces or minutes; `None` where it is not known exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Measured {
    /// One unit for both sides of a line.
    pub quantity: Option<i64>,
    /// What it costs.
    pub value: Millionths,
}

/// A line as it was quoted and as it turned out, losses and customer's changes not in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ComparedLine {
    /// What it is.
    pub kind: LineKind,
    /// Role or operation.
    pub name: String,
    /// `None` where nothing was quoted.
    pub quoted: Option<Measured>,
    /// `None` where nothing was spent.
    pub actual: Option<Measured>,
}

/// A quotation beside what became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparison {
    /// Garments that the quoted costs are for.
    pub quoted_for: i64,
    /// Good garments made; those started while none is finished.
    pub made: i64,
    /// True when nothing more will be spent.
    pub finished: bool,
    /// One for each role, operation, and the overhead.
    pub lines: Vec<ComparedLine>,
    /// Losses and customer's changes.
    pub apart: Vec<LossLine>,
}

/// A difference between quoted and actual cost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Variance {
    /// What it comes from.
    pub kind: VarianceKind,
    /// Role or operation; empty for the number made.
    pub name: String,
    /// Positive: dearer than quoted, unfavourable.
    pub value: Millionths,
}

impl Comparison {
    /// The differences that are not zero; their sum is exactly actual less quoted, `apart` included.
    ///
    /// - Formula: what is allowed is what was quoted × made ÷ quoted for; quantity = quoted price × actual quantity − allowed
    ///   cost, price = actual cost − quoted price × actual quantity.
    /// - Rounding: each product once to the nearest millionth; the rest by subtraction, so that nothing is left over.
    /// - Source: OpenStax Principles of Accounting vol. 2, 8.2 (material) and 8.3 (labour); standards are for what was
    ///   actually made (same place).
    ///
    /// # Errors
    /// [`CostError::BatchSize`] for a quotation of no garment, [`CostError::GoodCount`] for fewer than none, overflow.
    pub fn variances(&self) -> Result<Vec<Variance>, CostError> {
        if self.quoted_for < 1 {
            return Err(CostError::BatchSize {
                started: self.quoted_for,
                max: MAX_BATCH,
            });
        }
        if self.made < 0 {
            return Err(CostError::GoodCount {
                good: self.made,
                started: self.quoted_for,
            });
        }
        let mut number = Millionths::ZERO;
        let mut all = Vec::new();
        for line in &self.lines {
            let Some(quoted) = line.quoted else {
                let value = line.actual.map_or(Millionths::ZERO, |actual| actual.value);
                all.push((VarianceKind::NotQuoted, line.name.as_str(), value));
                continue;
            };
            let allowed = quoted.value.share(self.made, self.quoted_for)?;
            number = number.plus(allowed.minus(quoted.value)?)?;
            for (kind, value) in told_apart(line, quoted, allowed, self.finished)? {
                all.push((kind, line.name.as_str(), value));
            }
        }
        let apart = self.apart.iter();
        all.extend(apart.map(|loss| {
            (
                VarianceKind::of_loss(loss.reason),
                loss.name.as_str(),
                loss.value,
            )
        }));
        let number = std::iter::once((VarianceKind::NumberMade, "", number));
        let told = number.chain(all).filter(|(_, _, value)| !value.is_zero());
        Ok(told
            .map(|(kind, name, value)| Variance {
                kind,
                name: name.to_owned(),
                value,
            })
            .collect())
    }
}

/// What a quoted line differs in from what was allowed; the values add up to actual less `allowed`.
fn told_apart(
    line: &ComparedLine,
    quoted: Measured,
    allowed: Millionths,
    finished: bool,
) -> Result<Vec<(VarianceKind, Millionths)>, QuantityError> {
    let Some(actual) = line.actual else {
        let kind = match quoted.quantity {
            _ if !finished => VarianceKind::NotSpentYet,
            Some(_) => VarianceKind::of_line(line.kind).0,
            None => VarianceKind::NotToldApart,
        };
        return Ok(vec![(kind, allowed.negated())]);
    };
    let (Some(standard @ 1..), Some(quantity)) = (quoted.quantity, actual.quantity) else {
        return Ok(vec![(
            VarianceKind::NotToldApart,
            actual.value.minus(allowed)?,
        )]);
    };
    let at_quoted_price = quoted.value.share(quantity, standard)?;
    let (by_quantity, by_price) = VarianceKind::of_line(line.kind);
    Ok(vec![
        (by_price, actual.value.minus(at_quoted_price)?),
        (by_quantity, at_quoted_price.minus(allowed)?),
    ])
}
