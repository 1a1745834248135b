//! From what was quoted to what it did cost, line by line. Positive is unfavourable.

use super::{CostError, CostItem, CostRow, LineKind, LossReason, MAX_BATCH, head};
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
    NotBrokenDown,
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
            Self::NotBrokenDown => "not broken down",
            Self::OwnMistake => "own mistake",
            Self::FaultyCloth => "faulty cloth",
            Self::CustomerChange => "customer's change",
        })
    }
}

impl VarianceKind {
    /// The two variances of a line of this kind: by quantity, by price.
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

/// A quotation beside what became of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comparison {
    /// Garments that the quoted costs are for.
    pub quoted_for: i64,
    /// Good garments made; those started while none is finished.
    pub made: i64,
    /// True when nothing more will be spent.
    pub finished: bool,
    /// Quoted and booked, losses and customer's changes not in it.
    pub lines: Vec<CostRow<2>>,
    /// Losses and customer's changes.
    pub apart: Vec<CostItem>,
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
    /// - Work is compared by operation, regardless of who does it.
    /// - Formula: what is allowed is what was quoted × made ÷ quoted for; quantity = quoted price × actual quantity − allowed
    ///   cost, price = actual cost − quoted price × actual quantity.
    /// - Rounding: each product once to the nearest millionth; the rest by subtraction, so that nothing is left over.
    /// - Source: OpenStax Principles of Accounting vol. 2, 8.2 (material) and 8.3 (labour); standards are for what was
    ///   actually made (same place).
    ///
    /// # Errors
    /// [`CostError::BatchSize`] for a quotation of no garment, [`CostError::GoodCount`] for fewer than none, overflow.
    pub fn variances(&self) -> Result<Vec<Variance>, CostError> {
        let (started, good) = (self.quoted_for, self.made);
        if started < 1 {
            let max = MAX_BATCH;
            return Err(CostError::BatchSize { started, max });
        }
        if good < 0 {
            return Err(CostError::GoodCount { good, started });
        }
        let mut number = Millionths::ZERO;
        let mut all = Vec::new();
        for [quoted, actual] in self.by_name()? {
            let Some(name) = quoted.as_ref().or(actual.as_ref()).map(|item| &item.name) else {
                continue;
            };
            let mut allowed = None;
            if let Some(quoted) = &quoted {
                let for_made = quoted.value.share(good, started)?;
                number = number.plus(for_made.minus(quoted.value)?)?;
                allowed = Some(for_made);
            }
            for (kind, value) in
                break_down(quoted.as_ref(), actual.as_ref(), allowed, self.finished)?
            {
                all.push((kind, name.clone(), value));
            }
        }
        for item in &self.apart {
            let name = match item.kind() {
                LineKind::Overhead => format!("{} on {}", item.name, item.of.join(", ")),
                LineKind::Material | LineKind::Labour => item.name.clone(),
            };
            all.extend(
                item.loss
                    .map(|reason| (VarianceKind::of_loss(reason), name, item.value)),
            );
        }
        let number = std::iter::once((VarianceKind::NumberMade, String::new(), number));
        let steps = number.chain(all).filter(|(_, _, value)| !value.is_zero());
        Ok(steps
            .map(|(kind, name, value)| Variance { kind, name, value })
            .collect())
    }

    /// The lines, those of one role or operation together.
    fn by_name(&self) -> Result<Vec<CostRow<2>>, QuantityError> {
        let mut all: Vec<CostRow<2>> = Vec::new();
        for row in &self.lines {
            let same = |known: &&mut CostRow<2>| {
                head(known)
                    .zip(head(row))
                    .is_some_and(|(one, other)| one.is_same(other))
            };
            let Some(known) = all.iter_mut().find(same) else {
                all.push(row.clone());
                continue;
            };
            for (known, own) in known.iter_mut().zip(row) {
                match (known, own) {
                    (Some(known), Some(own)) => known.absorb(own.clone())?,
                    (empty, own) => *empty = empty.take().or_else(|| own.clone()),
                }
            }
        }
        Ok(all)
    }
}

/// What a line differs in from what was `allowed` of it; the values add up to actual less allowed.
pub(super) fn break_down(
    quoted: Option<&CostItem>,
    actual: Option<&CostItem>,
    allowed: Option<Millionths>,
    finished: bool,
) -> Result<Vec<(VarianceKind, Millionths)>, QuantityError> {
    let (Some(quoted), Some(allowed)) = (quoted, allowed) else {
        let whole = actual.map(|actual| (VarianceKind::NotQuoted, actual.value));
        return Ok(whole.into_iter().collect());
    };
    let (by_quantity, by_price) = VarianceKind::of_line(quoted.kind());
    let Some(actual) = actual else {
        let kind = match quoted.extent {
            _ if !finished => VarianceKind::NotSpentYet,
            Some(_) => by_quantity,
            None => VarianceKind::NotBrokenDown,
        };
        return Ok(vec![(kind, allowed.negated())]);
    };
    let known = quoted.extent.zip(actual.extent.filter(|_| actual.priced));
    let Some((standard @ 1.., quantity)) = known.and_then(|(one, other)| one.beside(other)) else {
        let difference = actual.value.minus(allowed)?;
        return Ok(vec![(VarianceKind::NotBrokenDown, difference)]);
    };
    let at_quoted_price = quoted.value.share(quantity, standard)?;
    Ok(vec![
        (by_quantity, at_quoted_price.minus(allowed)?),
        (by_price, actual.value.minus(at_quoted_price)?),
    ])
}
