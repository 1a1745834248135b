//! `ellwand month`: what a month brought.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Shown, Table, time::minutes},
    verb::Verb,
};
use ellwand_contract::{
    Micro,
    month::{BelowLeast, GetMonth, GoodsSold, Month, MonthMoney},
    text::counted,
};
use ellwand_domain::month::Period;

impl Verb for GetMonth {
    fn show(&self, answer: Month, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        let ui = &mut *context.ui;
        ui.heading(heading(&answer));
        let is_idle = answer.goods.is_empty()
            && answer.garments.is_empty()
            && answer.hours.is_empty()
            && answer.below_least.is_empty()
            && answer.in_garments.is_none_or(|held| held.get() == 0)
            && answer.money.as_ref().is_none_or(is_nothing);
        if is_idle {
            ui.notes(&answer.notes);
            ui.status("Nothing moved in this period, and nothing is on the shelf.");
            return Ok(());
        }
        for table in [
            goods(shown, &answer),
            went(shown, &answer),
            garments(shown, &answer),
        ] {
            if !table.is_empty() {
                ui.table(&table);
                ui.blank();
            }
        }
        if let Some(money) = &answer.money {
            ui.table(&sold(money, &answer));
            ui.blank();
        }
        let hours = hours(&answer);
        if !hours.is_empty() {
            ui.table(&hours);
        }
        if let Some(hour) = &answer.hour_earned {
            let garments = counted(
                usize::try_from(hour.garments).unwrap_or(usize::MAX),
                "garment",
            );
            ui.line(format!(
                "an own hour earned {} {} ({} on {garments} finished and sold)",
                shown.value(hour.per_hour),
                answer.currency,
                minutes(hour.own_minutes),
            ));
        }
        for material in &answer.below_least {
            ui.line(below(shown, material));
        }
        ui.notes(&answer.notes);
        Ok(())
    }
}

fn heading(answer: &Month) -> String {
    let period = Period {
        first: answer.from,
        last: answer.to,
    };
    match period.is_month() {
        true => format!("{}, in {}", answer.from.format("%B %Y"), answer.currency),
        false => format!("{} to {}, in {}", answer.from, answer.to, answer.currency),
    }
}

fn is_nothing(money: &MonthMoney) -> bool {
    money.quoted.count == 0
        && money.accepted.count == 0
        && money.paid.count == 0
        && money.goods_sold.count == 0
        && money.owed.is_empty()
}

/// A value, or nothing for none and where prices are hidden.
fn value(shown: Shown, value: Option<Micro>) -> String {
    let value = value.filter(|value| value.get() != 0);
    shown.optional_value(value)
}

/// Two lines a kind: how much, and what it is worth.
fn goods(shown: Shown, answer: &Month) -> Table {
    let mut table = Table::headed("goods | >at start | >came in | >used | >elsewhere | >at end");
    for goods in &answer.goods {
        let moved = [
            &goods.at_start,
            &goods.came_in,
            &goods.used,
            &goods.elsewhere,
            &goods.at_end,
        ];
        let name = [goods.kind.to_string()];
        let amounts = moved.map(|moved| shown.net(moved.amount));
        table.row(name.into_iter().chain(amounts));
        // A strip that is kept beside a panel adds to the length on the shelf.
        let strips = shown.net(goods.strips);
        if !strips.is_empty() {
            table.row(["strips beside panels", "", &strips]);
        }
        let values = moved.map(|moved| value(shown, moved.value));
        if values.iter().any(|value| !value.is_empty()) {
            table.row([String::new()].into_iter().chain(values));
        }
    }
    let Some(worth) = answer.shelf_value else {
        return table;
    };
    if table.is_empty() {
        return table;
    }
    table.rule();
    table.row(["worth in all", "", "", "", "", &shown.value(worth)]);
    let used_up = value(shown, answer.late_charges);
    if !used_up.is_empty() {
        table.row(["late charges on what is used up", "", &used_up]);
    }
    let held = value(shown, answer.in_garments);
    if !held.is_empty() {
        table.row(["in garments not delivered", "", "", "", "", &held]);
    }
    table
}

fn went(shown: Shown, answer: &Month) -> Table {
    let mut table = Table::headed("from or to | kind | >amount | >value");
    for goods in &answer.goods {
        let opening = [("opening stock", &goods.opening)];
        let went = goods.went.iter();
        let went = went.map(|went| (went.place.text(), &went.moved));
        for (place, moved) in opening.into_iter().chain(went) {
            let amount = shown.net(moved.amount);
            let value = value(shown, moved.value);
            if !amount.is_empty() || !value.is_empty() {
                table.row([place.to_owned(), goods.kind.to_string(), amount, value]);
            }
        }
    }
    table
}

fn garments(shown: Shown, answer: &Month) -> Table {
    let mut table =
        Table::headed("garment | name | customer | >good | finished | delivered | >own hour");
    for garment in &answer.garments {
        let good = garment.good.filter(|_| garment.count > 1);
        table.row([
            garment.garment.to_string(),
            garment.name.clone(),
            garment.customer_name.clone().unwrap_or_default(),
            good.map(|good| format!("{good} of {}", garment.count))
                .unwrap_or_default(),
            garment
                .finished
                .map(|day| day.to_string())
                .unwrap_or_default(),
            garment
                .delivered
                .map(|day| day.to_string())
                .unwrap_or_default(),
            value(shown, garment.hour_earned),
        ]);
    }
    table
}

fn sold(money: &MonthMoney, answer: &Month) -> Table {
    let mut table = Table::headed("with tax | for | customer | >number | >amount");
    for (name, sum) in [
        ("quoted", &money.quoted),
        ("accepted", &money.accepted),
        ("paid", &money.paid),
    ] {
        table.row([name, "", "", &sum.count.to_string(), &sum.amount]);
    }
    if money.goods_sold.count > 0 {
        let GoodsSold {
            count,
            amount,
            gain,
            unpriced,
        } = &money.goods_sold;
        let gain = match gain.strip_prefix('-') {
            _ if unpriced == count => "cost not known".to_owned(),
            Some(loss) => format!("at a loss of {loss}"),
            None => format!("at a gain of {gain}"),
        };
        let gain = match unpriced {
            0 => gain,
            _ if unpriced == count => gain,
            some => format!("{gain}, {some} at an unknown cost"),
        };
        table.row(["goods sold", &gain, "", &count.to_string(), amount]);
    }
    table.rule();
    for owed in &money.owed {
        let customer = owed.customer_name.clone();
        table.row([
            format!("{} owes", owed.quotation),
            format!("{} {}", owed.garment, owed.name),
            customer.unwrap_or_default(),
            String::new(),
            owed.amount.clone(),
        ]);
    }
    let count = money.owed.len().to_string();
    let owed = format!(
        "owed on {}",
        if answer.so_far {
            "today"
        } else {
            "the last day"
        }
    );
    table.row([
        owed,
        String::new(),
        String::new(),
        count,
        money.owed_in_all.clone(),
    ]);
    table
}

fn hours(answer: &Month) -> Table {
    let mut table = Table::headed("hours | kind | >time | >of it billable");
    let (mut all, mut billable) = (0_i64, 0_i64);
    for row in &answer.hours {
        (all, billable) = (
            all.saturating_add(row.minutes),
            billable.saturating_add(row.billable_minutes),
        );
        table.row([
            row.person.clone(),
            row.kind.to_string(),
            minutes(row.minutes),
            minutes(row.billable_minutes),
        ]);
    }
    if answer.hours.len() > 1 {
        table.rule();
        table.row(["in all", "", &minutes(all), &minutes(billable)]);
    }
    table
}

/// `M4 navy thread: 80 m left, its least level is 100 m; it fell below it in this period`.
fn below(shown: Shown, material: &BelowLeast) -> String {
    let left = match shown.net(material.on_hand) {
        none if none.is_empty() => "none left".to_owned(),
        left => format!("{left} left"),
    };
    let least = shown.amount(material.least);
    let fell = if material.fell {
        "; it fell below it in this period"
    } else {
        ""
    };
    format!(
        "{} {}: {left}, its least level is {least}{fell}",
        material.material, material.name
    )
}
