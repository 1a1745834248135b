//! One charge over the lines of its invoice.

use super::{Charge, ChargeKind, LandError, Line, Share};
use crate::allocation::{AllocationError, largest_remainder};

/// Which lines the charge belongs to.
fn covered(lines: &[Line], charge: &Charge, number: usize) -> Result<Vec<bool>, LandError> {
    let Some(named) = &charge.lines else {
        return Ok(vec![true; lines.len()]);
    };
    if named.is_empty() {
        return Err(LandError::NoLinesNamed { charge: number });
    }
    let mut covered = vec![false; lines.len()];
    for index in named {
        let unknown = LandError::UnknownLine {
            charge: number,
            line: index.saturating_add(1),
            lines: lines.len(),
        };
        *covered.get_mut(*index).ok_or(unknown)? = true;
    }
    Ok(covered)
}

/// Weight of one line by the key.
fn weight(
    line: &Line,
    earlier: &[i64],
    charge: &Charge,
    number: usize,
    at: usize,
) -> Result<i64, LandError> {
    let missing = |key| LandError::MissingKey {
        charge: number,
        line: at,
        key,
    };
    match &charge.share {
        Share::Value => line.price.ok_or(missing("price")),
        Share::Length => line.length_um.ok_or(missing("length")),
        Share::Mass => line.mass_mg.ok_or(missing("mass")),
        Share::Count => Ok(line.count),
        Share::TaxedAmount { charges } => {
            let mut taxed = line.price.ok_or(missing("price"))?;
            for index in charges {
                let named = index.saturating_add(1);
                let share = earlier.get(*index).ok_or(LandError::NotEarlier {
                    charge: number,
                    named,
                })?;
                taxed = taxed.checked_add(*share).ok_or(AllocationError::Overflow)?;
            }
            if taxed < 0 {
                return Err(LandError::NegativeTaxedAmount {
                    charge: number,
                    line: at,
                });
            }
            Ok(taxed)
        }
    }
}

/// Shares of one charge, one per line, adding up to its amount.
///
/// `earlier[line][charge]` holds what went before; `number` counts the charge from 1. When every weight is zero (all
/// gifts) the key falls back to the quantity, which is the length where all lines have one and the count else, then to
/// equal shares.
pub(super) fn share_charge(
    lines: &[Line],
    charge: &Charge,
    number: usize,
    earlier: &[Vec<i64>],
) -> Result<Vec<i64>, LandError> {
    if charge.kind == ChargeKind::Discount && charge.amount > 0 {
        return Err(LandError::DiscountNotNegative {
            charge: number,
            amount: charge.amount,
        });
    }
    let covered = covered(lines, charge, number)?;
    let mut by_key = Vec::with_capacity(lines.len());
    for (index, ((line, earlier), covered)) in lines.iter().zip(earlier).zip(&covered).enumerate() {
        let at = index.saturating_add(1);
        by_key.push(if *covered {
            weight(line, earlier, charge, number, at)?
        } else {
            0
        });
    }
    let only_covered = |of: fn(&Line) -> i64| -> Vec<i64> {
        lines
            .iter()
            .zip(&covered)
            .map(|(line, covered)| if *covered { of(line) } else { 0 })
            .collect()
    };
    // Metres and pieces cannot be added up: only where every line has a length is it the quantity.
    let long = lines
        .iter()
        .zip(&covered)
        .all(|(line, covered)| !covered || line.length_um.is_some());
    let lengths = if long {
        only_covered(|line| line.length_um.unwrap_or(0))
    } else {
        Vec::new()
    };
    let choices = [
        by_key,
        lengths,
        only_covered(|line| line.count),
        only_covered(|_| 1),
    ];
    let weights = choices
        .iter()
        .find(|weights| weights.iter().any(|weight| *weight != 0));
    Ok(largest_remainder(
        charge.amount,
        weights.ok_or(AllocationError::NoWeight)?,
    )?)
}

/// Refuses lines with a negative price, length, mass or count.
pub(super) fn check_lines(lines: &[Line]) -> Result<(), LandError> {
    if lines.is_empty() {
        return Err(LandError::NoLines);
    }
    for (index, line) in lines.iter().enumerate() {
        let Line {
            price,
            length_um,
            mass_mg,
            count,
        } = line;
        let values = [
            ("price", price.unwrap_or(0)),
            ("length", length_um.unwrap_or(0)),
            ("mass", mass_mg.unwrap_or(0)),
            ("count", *count),
        ];
        if let Some((what, _)) = values.into_iter().find(|(_, value)| *value < 0) {
            return Err(LandError::NegativeLine {
                line: index.saturating_add(1),
                what,
            });
        }
    }
    Ok(())
}
