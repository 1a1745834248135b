//! The cost sheet: every printed column adds up to its printed total.

use super::{Shown, Table, Ui, headed, paragraph};
use ellwand_contract::costs::{BridgeStep, CostGroup, CostLine, CostPair, CostSheet};

/// Shows the sheet, the bridge and the cost of each good one.
pub fn show(ui: &mut Ui<'_>, shown: Shown, sheet: &CostSheet) {
    let count = if sheet.count == 1 {
        String::new()
    } else {
        format!("{} x ", sheet.count)
    };
    let CostSheet {
        garment,
        name,
        state,
        currency,
        ..
    } = sheet;
    ui.line(format!("{garment}  {count}{name}, {state}, in {currency}"));
    if sheet.lines.is_empty() && sheet.losses.is_empty() {
        return ui.notes(&sheet.notes);
    }
    ui.blank();
    ui.table(&lines(shown, sheet));
    if sheet
        .customer_changes
        .actual
        .is_some_and(|changes| changes.get() != 0)
    {
        let changes = amount_or_unpriced(&sheet.customer_changes.actual_printed);
        ui.line(format!(
            "Of the job, the customer's changes cost {changes} {currency}."
        ));
    }
    if !sheet.bridge.is_empty() {
        ui.blank();
        ui.table(&bridge(sheet));
    }
    per_good(ui, sheet);
    stiffness(ui, sheet);
    ui.notes(&sheet.notes);
}

fn lines(shown: Shown, sheet: &CostSheet) -> Table {
    // A column without a text is left out, so each heading stands alone.
    let planned = headed(">planned | >planned cost");
    let actual = headed(">actual | >actual cost");
    let mut table = Table::new(
        headed("| line | from")
            .into_iter()
            .chain(planned)
            .chain(actual),
    );
    group(&mut table, shown, &sheet.lines, name_of);
    table.rule();
    total(&mut table, "job", &sheet.job);
    if !sheet.losses.is_empty() {
        table.rule();
        group(&mut table, shown, &sheet.losses, |_| "loss");
        table.rule();
        total(&mut table, "all in", &sheet.all);
    }
    table
}

fn name_of(group: CostGroup) -> &'static str {
    match group {
        CostGroup::Material => "material",
        CostGroup::Labour => "labour",
        CostGroup::Overhead => "overhead",
    }
}

/// Lines under the name of their group, which stands on the first of them.
fn group(
    table: &mut Table,
    shown: Shown,
    lines: &[CostLine],
    name: impl Fn(CostGroup) -> &'static str,
) {
    let mut above = "";
    for line in lines {
        let group = name(line.group);
        let first = if group == above { "" } else { group };
        above = group;
        table.row(row(first, shown, line));
    }
}

fn row(group: &str, shown: Shown, line: &CostLine) -> [String; 7] {
    let planned = match (&line.planned_quantity, line.planned_known) {
        (_, true) => line.cost.planned_printed.clone().unwrap_or_default(),
        // Needed, but not priced: that is not zero.
        (Some(_), false) => "?".to_owned(),
        (None, false) => String::new(),
    };
    let quantity = |amount, text: &Option<String>| shown.quantity(amount, text.as_deref());
    let planned = (
        quantity(line.planned_amount, &line.planned_quantity),
        planned,
    );
    let cost = line
        .cost
        .actual_printed
        .clone()
        .unwrap_or_else(|| "?".to_owned());
    let actual = (quantity(line.actual_amount, &line.actual_quantity), cost);
    let (name, detail) = (line.name.clone(), line.detail.clone());
    [
        group.to_owned(),
        name,
        detail,
        planned.0,
        planned.1,
        actual.0,
        actual.1,
    ]
}

fn total(table: &mut Table, name: &str, pair: &CostPair) {
    let (planned, actual) = (
        amount_or_unpriced(&pair.planned_printed).to_owned(),
        amount_or_unpriced(&pair.actual_printed).to_owned(),
    );
    table.row([
        name.to_owned(),
        String::new(),
        String::new(),
        String::new(),
        planned,
        String::new(),
        actual,
    ]);
}

/// An amount, or that there is none.
fn amount_or_unpriced(printed: &Option<String>) -> &str {
    printed.as_deref().unwrap_or("not priced")
}

fn bridge(sheet: &CostSheet) -> Table {
    let mut table = Table::headed("from planned to actual | >");
    table.row(["planned", amount_or_unpriced(&sheet.all.planned_printed)]);
    for step in &sheet.bridge {
        table.row([step.name.clone(), signed(step)]);
    }
    table.rule();
    table.row(["actual", amount_or_unpriced(&sheet.all.actual_printed)]);
    table
}

/// `+13.22`, `-4.00`: dearer or cheaper than planned.
fn signed(step: &BridgeStep) -> String {
    match step.printed.strip_prefix(['-', '+']) {
        Some(_) => step.printed.clone(),
        None => format!("+{}", step.printed),
    }
}

fn per_good(ui: &mut Ui<'_>, sheet: &CostSheet) {
    let Some(each) = &sheet.per_good else { return };
    if sheet.count == 1 && each.spoiled == 0 {
        return;
    }
    let currency = &sheet.currency;
    ui.blank();
    let mut text = format!(
        "{} good, {} spoiled: {} {currency} for each good one",
        each.good, each.spoiled, each.each_printed
    );
    if each.loss.get() != 0 {
        text.push_str(&format!(
            "; loss on the spoiled {} {currency}",
            each.loss_printed
        ));
    }
    ui.line(text);
}

/// How stiff the interlined parts will be: it decides the price.
fn stiffness(ui: &mut Ui<'_>, sheet: &CostSheet) {
    if sheet.stiffness.is_empty() {
        return;
    }
    ui.blank();
    for part in &sheet.stiffness {
        for note in &part.notes {
            paragraph::show(ui, 0, &format!("{}, {}: {note}", part.need, part.lot));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_domain::{quantity::Millionths, setting::UnitSystem};

    fn line(planned_quantity: Option<&str>, planned_known: bool) -> CostLine {
        let cost = CostPair {
            planned_printed: Some("0.00".to_owned()),
            actual_printed: Some("4.10".to_owned()),
            ..CostPair::default()
        };
        CostLine {
            group: CostGroup::Material,
            name: "buttons".to_owned(),
            detail: "L7 horn button".to_owned(),
            planned_quantity: planned_quantity.map(str::to_owned),
            actual_quantity: Some("7".to_owned()),
            planned_amount: None,
            actual_amount: None,
            cost,
            planned_known,
        }
    }

    #[test]
    fn a_need_without_a_price_is_shown_as_unknown_and_not_as_zero() {
        assert_eq!(
            row(
                "",
                Shown::new(UnitSystem::Metric, "EUR"),
                &line(Some("7"), false)
            )[4],
            "?"
        );
        assert_eq!(
            row(
                "",
                Shown::new(UnitSystem::Metric, "EUR"),
                &line(None, false)
            )[4],
            ""
        );
        assert_eq!(
            row(
                "",
                Shown::new(UnitSystem::Metric, "EUR"),
                &line(Some("7"), true)
            )[4],
            "0.00"
        );
    }

    #[test]
    fn steps_of_the_bridge_carry_their_sign() {
        let step = |printed: &str| BridgeStep {
            name: "time".to_owned(),
            amount: Millionths::default().into(),
            printed: printed.to_owned(),
        };
        assert_eq!(
            ["36.00", "-4.00"].map(|printed| signed(&step(printed))),
            ["+36.00", "-4.00"]
        );
    }
}
