//! What a quotation came to: every printed column adds up to its printed total.

use super::{Shown, Table, Ui, left, paragraph, right, time::minutes};
use ellwand_contract::outcomes::{Outcome, OutcomeCosts, OutcomeVariance, Verdict};
use ellwand_domain::costing::LossReason;

/// Shows the three the way from quoted to actual, and what is left of the price.
pub fn show(ui: &mut Ui<'_>, shown: Shown, outcome: &Outcome) {
    let Outcome {
        quotation,
        version,
        garment,
        name,
        state,
        currency,
        ..
    } = outcome;
    let so_far = if outcome.so_far { " so far" } else { "" };
    ui.heading(format!(
        "{quotation}, version {version}, outcome{so_far}, in {currency}"
    ));
    let mut what = format!("{garment} {name}, {state}");
    if outcome.made != 1 || outcome.quoted_for != 1 {
        let made = if outcome.so_far { "in work" } else { "good" };
        what.push_str(&format!(
            ", quoted for {}, {} {made}",
            outcome.quoted_for, outcome.made
        ));
    }
    ui.line(what);
    ui.blank();
    ui.table(&costs(shown, outcome));
    // Without a total there is no way to it.
    if outcome.total.actual.is_some() {
        ui.blank();
        ui.table(&way(outcome));
    }
    ui.blank();
    price(ui, shown, outcome);
    ui.notes(&outcome.notes);
}

fn reason_label(reason: LossReason) -> &'static str {
    match reason {
        LossReason::OwnMistake => "own mistake",
        LossReason::FaultyCloth => "faulty cloth",
        LossReason::CustomerChange => "customer's change",
    }
}

fn printed(cost: &OutcomeCosts) -> [String; 3] {
    [
        &cost.planned_printed,
        &cost.quoted_printed,
        &cost.actual_printed,
    ]
    .map(|text| text.clone().unwrap_or_default())
}

fn costs(shown: Shown, outcome: &Outcome) -> Table {
    let mut table = Table::headed("cost | >planned | > | >quoted | > | >actual | >");
    for group in &outcome.groups {
        let lines: Vec<_> = outcome
            .lines
            .iter()
            .filter(|line| line.group == group.group)
            .collect();
        table.row([group.group.to_string()]);
        for line in &lines {
            let [planned, quoted, actual] = printed(&line.cost);
            let quantity = |amount, text: &Option<String>| shown.quantity(amount, text.as_deref());
            let [of_plan, of_quotation, booked] = line.amounts;
            let amounts = [
                (quantity(of_plan, &line.planned_quantity), planned),
                (quantity(of_quotation, &line.quoted_quantity), quoted),
                (quantity(booked, &line.actual_quantity), actual),
            ];
            let name = std::iter::once(format!("  {}", line.name));
            table.row(name.chain(amounts.into_iter().flat_map(<[String; 2]>::from)));
        }
        if lines.len() > 1 {
            sums(&mut table, "  together", &group.cost);
        }
    }
    let mut of = None;
    for apart in &outcome.apart {
        if of != Some(apart.reason) {
            table.row([reason_label(apart.reason)]);
            of = Some(apart.reason);
        }
        let quantity = shown.quantity(apart.amount, apart.quantity.as_deref());
        let name = match apart.group {
            ellwand_domain::pricing::PriceGroup::Overhead => format!("overhead on {}", apart.name),
            _ => apart.name.clone(),
        };
        let name = format!("  {name}");
        let empty = std::iter::repeat_n(String::new(), 4);
        table.row(
            std::iter::once(name)
                .chain(empty)
                .chain([quantity, apart.printed.clone()]),
        );
    }
    table.rule();
    sums(&mut table, "all", &outcome.total);
    table
}

fn sums(table: &mut Table, name: &str, cost: &OutcomeCosts) {
    let [planned, quoted, mut actual] = printed(cost);
    if name == "all" && cost.actual.is_none() {
        actual = "not priced".to_owned();
    }
    let none = String::new;
    table.row([
        name.to_owned(),
        none(),
        planned,
        none(),
        quoted,
        none(),
        actual,
    ]);
}

fn way(outcome: &Outcome) -> Table {
    let mut table = Table::headed("from quoted to actual |  | > |");
    let [_, quoted, actual] = printed(&outcome.total);
    table.row(["quoted", "", &quoted]);
    for variance in &outcome.variances {
        let (kind, name) = labels(variance);
        let verdict = match variance.verdict {
            Verdict::Favourable => "favourable",
            Verdict::Unfavourable => "unfavourable",
            Verdict::Rounding => "",
        };
        table.row([kind, name, signed(&variance.printed), verdict.to_owned()]);
    }
    table.rule();
    table.row(["actual", "", &actual]);
    table
}

fn labels(variance: &OutcomeVariance) -> (String, String) {
    let kind = variance
        .kind
        .map_or_else(|| "rounding".to_owned(), |kind| kind.to_string());
    (kind, variance.name.clone())
}

/// `+13.22`, `-4.00`: dearer or cheaper than quoted.
fn signed(printed: &str) -> String {
    if printed.starts_with('-') {
        printed.to_owned()
    } else {
        format!("+{printed}")
    }
}

fn price(ui: &mut Ui<'_>, shown: Shown, outcome: &Outcome) {
    let price = &outcome.price;
    let percent = |share: &Option<String>| {
        let share = share.as_ref();
        share.map_or_else(|| "none".to_owned(), |share| format!("{share} %"))
    };
    let hour =
        |earns: &Option<_>| earns.map_or_else(|| "none".to_owned(), |earns| shown.value(earns));
    let amount = |amount: &Option<_>| {
        amount.map_or_else(|| "not priced".to_owned(), |amount| shown.value(amount))
    };
    let (quoted, actual) = (&price.quoted_markup_percent, &price.markup_percent);
    let markup = [percent(quoted), percent(actual)];
    let (quoted, actual) = (&price.quoted_margin_percent, &price.margin_percent);
    let margin = [percent(quoted), percent(actual)];
    let quoted = outcome.total.quoted_printed.clone().unwrap_or_default();
    let cost = match price.salvage.get() {
        0 => "cost",
        _ => "cost, less salvage of spoiled ones",
    };
    let rows = [
        (
            "net price",
            [shown.value(price.net), shown.value(price.earned)],
        ),
        (cost, [quoted, amount(&price.cost)]),
        (
            "profit",
            [shown.value(price.quoted_profit), amount(&price.profit)],
        ),
        ("markup", markup),
        ("margin", margin),
        (
            "own hours",
            [price.quoted_own_minutes, price.own_minutes].map(minutes),
        ),
        (
            "an own hour earns",
            [hour(&price.hour_quoted), hour(&price.hour_earned)],
        ),
    ];
    let turned_out = if outcome.so_far {
        "so far"
    } else {
        "as it turned out"
    };
    let mut table = Table::new([left("price"), right("quoted"), right(turned_out)]);
    for (name, [quoted, actual]) in rows {
        table.row([name, &quoted, &actual]);
    }
    ui.table(&table);
    let (paid, open, currency) = (&price.paid, &price.left, &outcome.currency);
    let line = format!("paid {paid}, left {open} {currency}, tax included");
    paragraph::show(ui, 0, &line);
}
