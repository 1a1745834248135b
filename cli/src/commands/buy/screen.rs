//! A purchase on the screen: lines with what they cost in the end, charges with their shares.

use super::charge::{kind_word, share_word};
use crate::ui::{Shown, Table, Ui, headed, right};
use ellwand_contract::{
    Micro,
    purchases::{Purchase, PurchaseCharge},
};
use ellwand_domain::{
    allocation::round_to_total,
    code::LotCode,
    quantity::{Currency, Millionths},
    setting::ReclaimBy,
};

pub(crate) fn purchase(ui: &mut Ui<'_>, shown: Shown, purchase: &Purchase) {
    head(ui, purchase);
    lines(ui, shown, purchase);
    charges(ui, shown, purchase);
    ui.notes(&purchase.notes);
}

/// One line of a purchase, under its head.
pub(crate) fn line_of(ui: &mut Ui<'_>, shown: Shown, (purchase, lot): (&Purchase, LotCode)) {
    let mut only = purchase.clone();
    only.lines.retain(|line| line.lot == lot);
    head(ui, purchase);
    ui.table(&rows(shown, &only).0);
    ui.notes(&purchase.notes);
}

fn head(ui: &mut Ui<'_>, purchase: &Purchase) {
    let supplier = match (&purchase.supplier, purchase.supplier_code) {
        (Some(name), Some(code)) => format!(" from {name} ({code})"),
        (Some(name), None) => format!(" from {name}"),
        (None, _) if purchase.opening => ", opening stock".to_owned(),
        (None, _) => String::new(),
    };
    let invoice = purchase
        .invoice
        .as_ref()
        .map(|invoice| format!(", invoice {invoice}"))
        .unwrap_or_default();
    ui.heading(format!(
        "{} of {}{supplier}{invoice}",
        purchase.purchase, purchase.date
    ));
}

/// True where what the invoice says of a line is not all it cost, or is in another currency.
fn has_more(purchase: &Purchase) -> bool {
    let charged = purchase.charges.iter().any(|charge| !charge.late);
    charged || purchase.currency != purchase.home_currency
}

/// The lines, and what they come to in minor units.
fn rows(shown: Shown, purchase: &Purchase) -> (Table, i64) {
    let (invoice, home) = (&purchase.currency, &purchase.home_currency);
    let mut columns = headed("lot | pieces | material | >paid for | >received");
    columns.push(right(&format!("price {invoice}")));
    columns.push(right(&format!("with charges {invoice}")));
    columns.push(right(&format!("landed {home}")));
    let mut table = Table::new(columns);
    let digits = home.parse::<Currency>().map_or(2, Currency::digits);
    let landed: Vec<Millionths> = purchase.lines.iter().map(|line| line.landed.0).collect();
    let (printed, total) = round_to_total(&landed, digits).unwrap_or_default();
    for (place, line) in purchase.lines.iter().enumerate() {
        let pieces: Vec<String> = line.pieces.iter().map(ToString::to_string).collect();
        let minor = printed.get(place).copied().unwrap_or_default();
        table.row([
            line.lot.to_string(),
            pieces.join(", "),
            line.name.clone(),
            line.paid.clone().unwrap_or_default(),
            shown.amount(line.measured),
            match &line.price {
                None => "unknown".to_owned(),
                Some(price) if line.estimated => format!("about {price}"),
                Some(price) => price.clone(),
            },
            if has_more(purchase) {
                line.invoice_amount.clone()
            } else {
                String::new()
            },
            minor_units(minor, digits),
        ]);
    }
    (table, total)
}

fn lines(ui: &mut Ui<'_>, shown: Shown, purchase: &Purchase) {
    let (mut table, total) = rows(shown, purchase);
    let digits = purchase.home_currency.parse::<Currency>();
    let digits = digits.map_or(2, Currency::digits);
    let sum = if has_more(purchase) {
        purchase.invoice_total.as_str()
    } else {
        ""
    };
    table.rule().row([
        "",
        "",
        "together",
        "",
        "",
        "",
        sum,
        &minor_units(total, digits),
    ]);
    ui.table(&table);
    let unknown = purchase.lines.iter().filter(|line| line.price.is_none());
    let unknown: Vec<String> = unknown.map(|line| line.lot.to_string()).collect();
    if let Some(first) = unknown.first() {
        let all = unknown.join(", ");
        ui.line(format!(
            "no price yet, counted as nothing: {all} (ellwand lot price {first} 24.00)"
        ));
    }
    below(ui, shown, purchase);
}

/// What is shown under the lines: the conversion, reclaimed tax, late charges.
fn below(ui: &mut Ui<'_>, shown: Shown, purchase: &Purchase) {
    let (invoice, home) = (&purchase.currency, &purchase.home_currency);
    if invoice != home {
        let home_total = shown.value(purchase.invoice_home);
        let rate = purchase
            .rate
            .as_ref()
            .map(|rate| format!(" x {rate}"))
            .unwrap_or_default();
        ui.line(format!(
            "{invoice} {}{rate} = {home} {home_total}",
            purchase.invoice_total
        ));
    }
    if purchase
        .charges
        .iter()
        .any(|charge| charge.reclaimed == Some(true) && charge.currency == *invoice)
    {
        let (tax, cost) = (&purchase.reclaimed_total, &purchase.invoice_total);
        ui.line(format!(
            "plus {invoice} {tax} of tax, which is reclaimed and not in the {cost}"
        ));
    }
    let late: Vec<Millionths> = purchase
        .charges
        .iter()
        .filter_map(|charge| charge.home)
        .map(|home| home.0)
        .collect();
    if let (false, Ok(late)) = (late.is_empty(), Millionths::sum(late)) {
        let (late, all) = (Micro(late), purchase.home_total);
        ui.line(format!(
            "added later {home} {}, together {}",
            shown.value(late),
            shown.value(all)
        ));
    }
}

fn charges(ui: &mut Ui<'_>, shown: Shown, purchase: &Purchase) {
    if purchase.charges.is_empty() {
        return;
    }
    let mut columns = headed("no. | charge | >amount |  | shared by |");
    columns.extend(
        purchase
            .lines
            .iter()
            .map(|line| right(&line.lot.to_string())),
    );
    let mut table = Table::new(columns);
    for (place, charge) in purchase.charges.iter().enumerate() {
        let mut row = vec![
            place.saturating_add(1).to_string(),
            kind_word(charge.kind).to_owned(),
            charge.amount.clone(),
            charge.currency.clone(),
            share_word(charge.share).to_owned(),
            remark(shown, purchase, charge),
        ];
        row.extend(charge.shares.iter().cloned());
        table.row(row);
    }
    ui.blank();
    ui.table(&table);
}

/// When it was added, and whether a tax is a cost and why.
fn remark(shown: Shown, purchase: &Purchase, charge: &PurchaseCharge) -> String {
    let later = match charge.home.filter(|_| charge.late) {
        Some(value) if charge.currency != purchase.home_currency => Some(format!(
            "added later, {} {}",
            purchase.home_currency,
            shown.value(value)
        )),
        _ if charge.late => Some("added later".to_owned()),
        _ => None,
    };
    let tax = charge
        .reclaimed
        .zip(charge.reclaim_by)
        .map(|(reclaimed, by)| {
            let what = if reclaimed { "reclaimed" } else { "a cost" };
            match (by, charge.reclaim_from) {
                (ReclaimBy::Charge, _) => format!("{what}: as entered"),
                (ReclaimBy::Setting, Some(day)) => format!("{what}: set from {day} on"),
                (ReclaimBy::Setting, None) => format!("{what}: as set"),
                (ReclaimBy::Unset, _) => format!("{what}: not set"),
            }
        });
    later.into_iter().chain(tax).collect::<Vec<_>>().join(", ")
}

/// Minor units as a decimal: 16680 at 2 → `166.80`.
fn minor_units(minor: i64, digits: u32) -> String {
    rust_decimal::Decimal::new(minor, digits).to_string()
}
