//! Material lines of a cost sheet.

use super::{
    CostError, LineKind, LossLine, MaterialLine, SheetLine, StandardPrice, Used, material_variance,
    sheet::CostSheet,
};
use crate::quantity::{Millionths, QuantityError};

const LIMIT: &str = "9 223 372 036 854 775 807 of the smallest unit";

fn check(line: &MaterialLine) -> Result<(), CostError> {
    let negative = |used: &Used| used.quantity < 0 || used.value.get() < 0;
    if negative(&line.actual)
        || line.planned.as_ref().is_some_and(negative)
        || line.losses.iter().any(|loss| negative(&loss.used))
    {
        return Err(CostError::NegativeLine {
            name: line.name.clone(),
        });
    }
    if let Some(planned) = line.planned.filter(|planned| planned.quantity == 0) {
        return Err(CostError::PlanOfNothing {
            name: line.name.clone(),
            quantity: planned.quantity,
        });
    }
    Ok(())
}

/// Adds one material to the sheet's lines, losses and bridge.
pub(super) fn add(sheet: &mut CostSheet, line: &MaterialLine) -> Result<(), CostError> {
    check(line)?;
    let mut all = line.actual;
    for loss in &line.losses {
        let quantity = all.quantity.checked_add(loss.used.quantity);
        all.quantity = quantity.ok_or(QuantityError::Overflow { limit: LIMIT })?;
        all.value = all.value.plus(loss.used.value)?;
        sheet.losses.push(LossLine {
            kind: LineKind::Material,
            name: line.name.clone(),
            reason: loss.reason,
            value: loss.used.value,
        });
    }
    let bridge = &mut sheet.bridge;
    match line.planned {
        Some(Used { quantity, value }) => {
            let price = StandardPrice::new(value, quantity)?;
            let variance = material_variance(&price, quantity, all.value, all.quantity)?;
            bridge.quantity = bridge.quantity.plus(variance.quantity)?;
            bridge.price = bridge.price.plus(variance.price)?;
        }
        None => bridge.unplanned = bridge.unplanned.plus(all.value)?,
    }
    let planned: Option<Millionths> = line.planned.map(|planned| planned.value);
    sheet.lines.push(SheetLine {
        kind: LineKind::Material,
        name: line.name.clone(),
        planned,
        actual: line.actual.value,
    });
    Ok(())
}
