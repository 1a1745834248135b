//! The landed cost of every line.

use super::{
    Charge, Conversion, LandError, Line, millionths_from_minor,
    share::{check_lines, share_charge},
};
use crate::{
    allocation::{AllocationError, largest_remainder},
    quantity::Millionths,
};

/// One line with its charges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LandedLine {
    /// Price in minor units of the invoice currency; 0 while it is not known.
    pub price: i64,
    /// Shape: one share per charge, in the order of the charges; invoice minor units.
    pub shares: Vec<i64>,
    /// Price plus the shares of what is a cost, in minor units of the invoice currency.
    pub invoice_minor: i64,
    /// Landed cost in the workshop's currency: whole minor units, held in millionths.
    pub home: Millionths,
}

/// A landed invoice: the lines add up to both totals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Landed {
    /// Shape: one per line of the invoice, in order.
    pub per_line: Vec<LandedLine>,
    /// What the goods cost, in minor units of the invoice currency.
    pub invoice_total: i64,
    /// Tax that is reclaimed; with the total it is what is paid. Minor units of the invoice currency.
    pub reclaimed: i64,
    /// What the goods cost in the workshop's currency.
    pub home_total: Millionths,
}

/// Lands an invoice: shares the charges in their order, adds up, converts the total once and splits it over the lines.
///
/// - Units: minor units of the invoice currency in; millionths of the workshop's currency out.
/// - Rounding: each charge by largest remainder; the total half up to the home minor unit; the split in home minor units
///   by largest remainder of the lines' invoice amounts. A typed home amount is what was paid: what is reclaimed of it is
///   split off by largest remainder first.
/// - Order of checks: lines, each charge as it comes, line totals, rate.
///
/// # Errors
/// [`LandError`]: every variant but those of late charges.
pub fn land(
    lines: &[Line],
    charges: &[Charge],
    conversion: Conversion,
) -> Result<Landed, LandError> {
    check_lines(lines)?;
    let mut shares: Vec<Vec<i64>> = vec![Vec::with_capacity(charges.len()); lines.len()];
    let costs: Vec<bool> = charges.iter().map(Charge::is_cost).collect();
    let reclaimed = charges
        .iter()
        .filter(|charge| !charge.is_cost())
        .map(|charge| charge.amount);
    let reclaimed = add_up(reclaimed)?;
    for (index, charge) in charges.iter().enumerate() {
        let parts = share_charge(lines, charge, index.saturating_add(1), &shares)?;
        for (line, part) in shares.iter_mut().zip(parts) {
            line.push(part);
        }
    }
    let mut amounts = Vec::with_capacity(lines.len());
    for (index, (line, shares)) in lines.iter().zip(&shares).enumerate() {
        let cost = shares
            .iter()
            .zip(&costs)
            .filter(|(_, is_cost)| **is_cost)
            .map(|(share, _)| *share);
        let total = add_up(line.price.into_iter().chain(cost))?;
        if total < 0 {
            return Err(LandError::NegativeTotal {
                line: index.saturating_add(1),
                total,
            });
        }
        amounts.push(total);
    }
    let invoice_total = add_up(amounts.iter().copied())?;
    let home_minor = match conversion {
        Conversion::Home { .. } if reclaimed != 0 => {
            let paid = conversion.convert(add_up([invoice_total, reclaimed])?)?;
            let split = largest_remainder(paid, &[invoice_total, reclaimed])?;
            split.first().copied().unwrap_or_default()
        }
        _ => conversion.convert(invoice_total)?,
    };
    let digits = conversion.home_digits();
    let homes = if invoice_total == 0 {
        vec![0; lines.len()]
    } else {
        largest_remainder(home_minor, &amounts)?
    };
    let mut per_line = Vec::with_capacity(lines.len());
    for (((line, shares), invoice_minor), home) in lines.iter().zip(shares).zip(amounts).zip(homes)
    {
        let home = millionths_from_minor(home, digits)?;
        per_line.push(LandedLine {
            price: line.price.unwrap_or(0),
            shares,
            invoice_minor,
            home,
        });
    }
    Ok(Landed {
        per_line,
        invoice_total,
        reclaimed,
        home_total: millionths_from_minor(home_minor, digits)?,
    })
}

fn add_up(amounts: impl IntoIterator<Item = i64>) -> Result<i64, AllocationError> {
    amounts
        .into_iter()
        .try_fold(0_i64, i64::checked_add)
        .ok_or(AllocationError::Overflow)
}
