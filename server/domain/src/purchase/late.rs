//! Charges and credits that arrive after the goods.

use super::{
    Charge, LandError, LandedLine, Line, millionths_from_minor,
    share::{check_lines, share_charge},
};
use crate::{
    allocation::{AllocationError, largest_remainder_wide},
    quantity::Millionths,
};

/// Shares a later charge over the lines of a purchase by the key given.
///
/// - Units: `charge.amount` in minor units of the **workshop's** currency (`home_digits` digits), as it was paid; a
///   credit is negative. A taxed amount refers to the charges already landed.
/// - Rounding: largest remainder in minor units; the shares add up to the amount.
///
/// # Errors
/// [`LandError::OtherLines`] when `landed` is of another purchase, else as [`super::land`] for one charge.
pub fn late_share(
    lines: &[Line],
    landed: &[LandedLine],
    charge: &Charge,
    home_digits: u32,
) -> Result<Vec<Millionths>, LandError> {
    check_lines(lines)?;
    if lines.len() != landed.len() {
        return Err(LandError::OtherLines {
            lines: lines.len(),
            landed: landed.len(),
        });
    }
    let earlier: Vec<Vec<i64>> = landed.iter().map(|line| line.shares.clone()).collect();
    let known = earlier.first().map_or(0, Vec::len);
    let parts = share_charge(lines, charge, known.saturating_add(1), &earlier)?;
    parts
        .into_iter()
        .map(|part| millionths_from_minor(part, home_digits))
        .collect()
}

/// A line's late share, placed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spread<K> {
    /// What each thing that is still here gets, in the order given.
    pub parts: Vec<(K, Millionths)>,
    /// The share of what is no longer here.
    pub adjustment: Millionths,
}

/// Spreads a line's late share over what is still here; the share of what is gone becomes an adjustment.
///
/// - Units: millionths; weights in the quantity that the line was bought in (area, length or count), `total_weight` for
///   the whole line.
/// - Rounding: largest remainder, ties to the first, the adjustment last; exact in sum.
///
/// A credit may exceed what a thing is still worth; the caller checks that no balance falls below zero.
///
/// # Errors
/// [`LandError::MoreThanBought`], or a negative weight.
pub fn spread_late<K: Clone>(
    line_share: Millionths,
    still_here: &[(K, i128)],
    total_weight: i128,
) -> Result<Spread<K>, LandError> {
    let mut weights: Vec<i128> = still_here.iter().map(|(_, weight)| *weight).collect();
    let here = weights
        .iter()
        .try_fold(0_i128, |sum, weight| sum.checked_add(*weight));
    let here = here.ok_or(AllocationError::Overflow)?;
    if here > total_weight {
        return Err(LandError::MoreThanBought);
    }
    if total_weight == 0 {
        let parts = still_here
            .iter()
            .map(|(key, _)| (key.clone(), Millionths::ZERO))
            .collect();
        return Ok(Spread {
            parts,
            adjustment: line_share,
        });
    }
    weights.push(
        total_weight
            .checked_sub(here)
            .ok_or(AllocationError::Overflow)?,
    );
    let mut amounts = largest_remainder_wide(line_share.get(), &weights)?;
    let adjustment = Millionths::new(amounts.pop().unwrap_or(0))?;
    let mut parts = Vec::with_capacity(still_here.len());
    for ((key, _), amount) in still_here.iter().zip(amounts) {
        parts.push((key.clone(), Millionths::new(amount)?));
    }
    Ok(Spread { parts, adjustment })
}
