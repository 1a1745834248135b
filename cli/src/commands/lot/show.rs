//! `ellwand lot show`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{self, Shown, Table, Ui, left, paragraph, right},
    verb::Verb,
};
use ellwand_contract::{
    Metres,
    lots::{GetLot, Lot, Piece},
    wash::WashTestRecord,
};

impl Verb for GetLot {
    fn show(&self, answer: Lot, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        lot(context.ui, shown, &answer);
        Ok(())
    }
}

/// A lot on the screen.
pub(crate) fn lot(ui: &mut Ui<'_>, shown: Shown, lot: &Lot) {
    ui.heading(format!(
        "{} {} ({}, {})",
        lot.lot, lot.name, lot.kind, lot.material
    ));
    let supplier = lot
        .supplier
        .as_ref()
        .map(|supplier| format!(" from {supplier}"))
        .unwrap_or_default();
    let paid = lot
        .paid
        .as_ref()
        .map(|paid| format!(", paid for {paid}"))
        .unwrap_or_default();
    ui.line(format!(
        "received with {} on {}{supplier}{paid}",
        lot.purchase, lot.received
    ));
    if lot.taken_back {
        ui.line(format!(
            "{} was undone, so nothing of it is here",
            lot.purchase
        ));
    }
    match lot.owner {
        Some(owner) => ui.line(format!(
            "belongs to {owner}: it costs nothing and is used only for their garments"
        )),
        None if lot.unpriced => unpriced(ui, shown, lot),
        None => {
            if let Some(landed) = &lot.landed_printed {
                let estimated = if lot.value_estimated {
                    ", estimated"
                } else {
                    ""
                };
                ui.line(format!(
                    "landed cost {landed} {}{estimated}",
                    shown.currency()
                ));
            }
        }
    }
    if let Some(dye_lot) = &lot.dye_lot {
        ui.line(format!("dye lot or roll {dye_lot}"));
    }
    let sheet = ui::sheet::table(shown, &lot.sheet);
    if !sheet.is_empty() {
        ui.blank();
        ui.table(&sheet);
    }
    pieces(ui, shown, lot);
    if let Some(stock) = &lot.stock {
        let of = if stock.pooled {
            "all that was paid for its material"
        } else {
            "what was paid for it"
        };
        let worth = stock
            .printed
            .as_ref()
            .map(|worth| format!(" worth {worth} {}", shown.currency()));
        ui.line(format!(
            "left of {of}: {}{}{}",
            shown.amount(stock.quantity),
            worth.unwrap_or_default(),
            if stock.unpriced {
                ", not all of it priced"
            } else {
                ""
            }
        ));
    }
    for test in &lot.wash_tests {
        wash_test(ui, shown, test, lot.sheet.wash_test == Some(test.number));
    }
    if !lot.turning.is_empty() {
        ui.blank();
        ui.heading("Stiffness by direction");
        for line in &lot.turning {
            paragraph::show(ui, 0, line);
        }
    }
    value_went(ui, shown, lot);
}

/// That its price is not known, and what stands in for it.
fn unpriced(ui: &mut Ui<'_>, shown: Shown, lot: &Lot) {
    let charged = match (&lot.landed, &lot.landed_printed) {
        (Some(landed), Some(printed)) if landed.get() > 0 => {
            format!("; with charges of {printed} {}", shown.currency())
        }
        _ => String::new(),
    };
    ui.line(format!(
        "price unknown: it counts as nothing{charged} (ellwand lot price {} 24.00)",
        lot.lot
    ));
    if let Some(replacement) = &lot.replacement {
        ui.line(format!(
            "to buy again {replacement}, estimated, for quoting"
        ));
    }
}

fn pieces(ui: &mut Ui<'_>, shown: Shown, lot: &Lot) {
    let (here, gone): (Vec<&Piece>, Vec<&Piece>) = lot
        .pieces
        .iter()
        .partition(|piece| piece.on_hand.get() != 0);
    ui.blank();
    if here.is_empty() {
        ui.line("nothing of it is left on the shelf");
    } else {
        ui.table(&ui::piece::table(shown, &here));
    }
    if !gone.is_empty() {
        let codes: Vec<String> = gone.iter().map(|piece| piece.piece.to_string()).collect();
        ui.line(format!("used up: {}", codes.join(", ")));
    }
    ui::piece::flaws(ui, shown, &here);
}

/// A wash test with its readings, so that the ratio can be checked with a pencil.
pub(crate) fn wash_test(ui: &mut Ui<'_>, shown: Shown, test: &WashTestRecord, chosen: bool) {
    ui.blank();
    let note = test
        .note
        .as_ref()
        .map(|note| format!(": {note}"))
        .unwrap_or_default();
    let chosen = if chosen { ", in use" } else { "" };
    ui.heading(format!(
        "Wash test {} of {}, {}{chosen}{note}",
        test.number, test.date, test.preparation
    ));
    let mut table = Table::headed("direction | reading | >marks | >change, ISO 5077 | >shrinkage");
    let ways = [
        (
            "lengthwise",
            &test.length_before_m,
            &test.length_after_m,
            &test.length_change,
            Some(&test.length_shrinkage),
        ),
        (
            "crosswise",
            &test.width_before_m,
            &test.width_after_m,
            &test.width_change,
            test.width_shrinkage.as_ref(),
        ),
    ];
    for (way, before, after, change, shrinkage) in ways {
        if before.is_empty() {
            table.row([way, "not tested"]);
            continue;
        }
        table.row([way, "before", &readings(shown, before)]);
        for (place, marks) in after.iter().enumerate() {
            let last = place.saturating_add(1) == after.len();
            let washes = usize::from(test.preparation.cycles());
            let step = match washes.checked_rem(after.len()) {
                Some(0) => washes.checked_div(after.len()).unwrap_or(1).max(1),
                _ => 1,
            };
            let cycle = format!("after {}", place.saturating_add(1).saturating_mul(step));
            let change = change.get(place).cloned().unwrap_or_default();
            let shrinkage = shrinkage.filter(|_| last).cloned().unwrap_or_default();
            table.row([
                String::new(),
                cycle,
                readings(shown, marks),
                change,
                shrinkage,
            ]);
        }
    }
    ui.table(&table);
}

fn readings(shown: Shown, marks: &[Metres]) -> String {
    marks
        .iter()
        .map(|mark| shown.width(*mark))
        .collect::<Vec<_>>()
        .join("  ")
}

fn value_went(ui: &mut Ui<'_>, shown: Shown, lot: &Lot) {
    if lot.value_went.is_empty() {
        return;
    }
    let mut table = Table::new([left("its value is in"), right(shown.currency())]);
    for share in &lot.value_went {
        table.row([&share.place, &share.printed]);
    }
    table.rule().row([
        "landed cost",
        lot.landed_printed.as_deref().unwrap_or_default(),
    ]);
    ui.blank();
    ui.table(&table);
}
