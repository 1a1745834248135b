//! Invented quotations. Every text and figure of the internal sheet is unlike those of the customer's, so that a
//! test can tell whether one has strayed.

use chrono::NaiveDate;
use ellwand_contract::{
    Micro,
    options::{AddedByDetail, OptionDifference, OptionFigures, QuotedOption},
    quotations::{
        CustomerSheet, InternalSheet, MadeOf, Payments, PricePart, Quotation, QuotedCost,
        QuotedLine, QuotedRate, QuotedStage, VersionHead,
    },
};
use ellwand_domain::{
    certainty::Certainty,
    code::{CustomerCode, GarmentCode, QuotationCode},
    pricing::PriceGroup,
    quantity::Millionths,
    setting::{MaterialsAt, PriceFrom, PricesShown, QuotationState},
};

/// An open quotation that fits on one page.
pub(super) fn ordinary() -> Quotation {
    Quotation {
        quotation: QuotationCode::new(3),
        is_trial: false,
        state: QuotationState::Open,
        garment: GarmentCode::new(517),
        customer: Some(CustomerCode::new(829)),
        customer_name: Some("Jördis Überwasser".to_owned()),
        version: 2,
        versions: vec![version(1, day(9, 28)), version(2, day(10, 12))],
        accepted: None,
        accepted_option: None,
        supplement_to: None,
        supplements: Vec::new(),
        together: None,
        sheet: sheet(),
        inside: Some(inside()),
        plan_is: None,
        options: Vec::new(),
        comparison: Some(Vec::new()),
        changes: Vec::new(),
        standing: Payments {
            payments: Vec::new(),
            stages: Vec::new(),
            paid: "0.00".to_owned(),
            rounding: None,
            due_now: "0.00".to_owned(),
            due_now_cash: None,
            left: "594.00".to_owned(),
            left_cash: None,
            over: "0.00".to_owned(),
            owed: "0.00".to_owned(),
            kept: None,
            not_covered: None,
            returned: None,
        },
        reservations: Vec::new(),
        booking: None,
        notes: vec!["the lot was counted twice".to_owned()],
    }
}

/// The plan and three options beside it, with a detail each.
pub(super) fn offered() -> Quotation {
    let mut quotation = ordinary();
    let figures = |place: i64, name: &str, more: Option<i64>| OptionFigures {
        name: name.to_owned(),
        cost: millionths(450_616_633 + place),
        own_minutes: 590 + place,
        paid_minutes: 45 + place,
        net: millionths(500_000_000 + place),
        gross: millionths(598_000_000 + place),
        profit: millionths(49_383_367 + place),
        markup_percent: Some(format!("1{place}.96")),
        margin_percent: Some(format!("{place}.88")),
        hour_earns: Some(millionths(26_372_037)),
        not_priced: vec![format!("{name} tape: not on the shelf")],
        more: more.map(|more| OptionDifference {
            cost: millionths(more),
            own_minutes: place,
            paid_minutes: -place,
            net: millionths(more),
            gross: millionths(more),
            profit: millionths(-more),
            hour_earns: None,
        }),
    };
    let added = |name: &str| AddedByDetail {
        detail: format!("{name} stitching"),
        minutes: 75,
        materials: millionths(3_170_000),
        labour: millionths(29_330_000),
        overhead: millionths(6_130_000),
        cost: millionths(38_630_000),
        net: millionths(52_710_000),
        gross: millionths(63_250_000),
        hour_without: Some(millionths(27_730_000)),
        not_priced: vec![format!("{name} floss: no lot")],
        note: Some(format!("{name} whole steps")),
    };
    let names = ["plain front", "hand-sewn buttonholes", "full lining"];
    quotation.plan_is = Some("as planned".to_owned());
    quotation.inside.as_mut().unwrap().details = vec![added("quilted")];
    let mut all = vec![figures(0, "as planned", None)];
    for (place, name) in (1..).zip(names) {
        let (mut sheet, mut own) = (sheet(), inside());
        sheet.gross = format!("6{place}2.4{place}");
        own.details = vec![added(name)];
        quotation.options.push(QuotedOption {
            name: name.to_owned(),
            differs: vec![format!("quilting on {name}")],
            sheet,
            inside: Some(own),
            changes: Vec::new(),
        });
        all.push(figures(place, name, Some(place * 12_340_000)));
    }
    quotation.comparison = Some(all);
    quotation
}

/// Sixty lines, words without end, and letters that HTML and PDF take for their own.
pub(super) fn crowded() -> Quotation {
    let mut quotation = ordinary();
    quotation.customer_name = Some(format!(
        "<script>alert(\"Ü & 'ß'\")</script> {}",
        "Wallaby".repeat(40)
    ));
    quotation.sheet.title = "Mantel \"Ölberg\" (lang) \\ Łódź <b>".to_owned();
    let line = |place: u32| QuotedLine {
        text: format!(
            "{place}. gefütterter Ärmel, <i>von Hand</i> {}",
            "gesteppt ".repeat(place as usize % 20)
        ),
        amount: format!("{place}.37"),
        rate: Some("standard".to_owned()),
    };
    quotation.sheet.lines = (1..=60).map(line).collect();
    quotation.sheet.terms = Some("First line of <terms>.\nSecond line & the last.".to_owned());
    quotation
}

/// Words without end in every column.
pub(super) fn wide() -> Quotation {
    let mut quotation = ordinary();
    let long = "Wombat".repeat(30);
    let sheet = &mut quotation.sheet;
    sheet
        .lines
        .iter_mut()
        .for_each(|line| (line.text, line.rate) = (long.clone(), Some(long.clone())));
    sheet
        .rates
        .iter_mut()
        .for_each(|rate| rate.name = long.clone());
    sheet
        .stages
        .iter_mut()
        .for_each(|stage| (stage.name, stage.terms) = (long.clone(), long.clone()));
    let inside = quotation.inside.as_mut().unwrap();
    for cost in &mut inside.costs {
        (cost.name, cost.detail) = (long.clone(), long.clone());
        (cost.quantity, cost.range) = (Some(long.clone()), Some(long.clone()));
        cost.printed = "1234567.890".to_owned();
    }
    inside
        .parts
        .iter_mut()
        .for_each(|part| part.name = long.clone());
    quotation
}

fn sheet() -> CustomerSheet {
    let line = |text: &str, amount: &str, rate: &str| QuotedLine {
        text: text.to_owned(),
        amount: amount.to_owned(),
        rate: Some(rate.to_owned()),
    };
    let rate = |name: &str, percent: &str, [net, tax, gross]: [&str; 3]| QuotedRate {
        name: name.to_owned(),
        percent: percent.to_owned(),
        net: net.to_owned(),
        tax: tax.to_owned(),
        gross: gross.to_owned(),
    };
    CustomerSheet {
        sender: None,
        title: "Coat \"Harbour\", lined".to_owned(),
        count: 2,
        description: Some("Two storm coats, lined.".to_owned()),
        made_of: vec![MadeOf {
            role: "shell".to_owned(),
            material: Some("oiled poplin".to_owned()),
        }],
        delivery: Some(day(12, 18)),
        date: day(10, 12),
        valid_until: day(11, 11),
        currency: "EUR".to_owned(),
        shown: PricesShown::WithoutTax,
        lines: vec![
            line("Cloth, lining and buttons", "212.40", "standard"),
            line("Making, two fittings included", "310.00", "standard"),
            line("Alteration of the customer's own belt", "20.00", "reduced"),
            line("Discount for a returning customer", "-42.40", "standard"),
        ],
        rates: vec![
            rate("standard", "20", ["480.00", "96.00", "576.00"]),
            rate("reduced", "10", ["20.00", "2.00", "22.00"]),
        ],
        net: "500.00".to_owned(),
        tax: "98.00".to_owned(),
        gross: "598.00".to_owned(),
        cash: None,
        stages: vec![
            stage(
                "deposit",
                "40% of gross",
                Some(day(10, 20)),
                ["239.20", "39.20"],
            ),
            stage("first fitting", "120.00", None, ["120.00", "19.67"]),
            stage("last", "the rest", Some(day(12, 4)), ["238.80", "39.13"]),
        ],
        terms: Some(
            "The deposit secures the cloth.\nChanges after the first fitting are priced anew."
                .to_owned(),
        ),
        to_be_priced: Vec::new(),
        supplement: None,
        words: ellwand_contract::words::Words::new(),
    }
}

fn stage(name: &str, terms: &str, due: Option<NaiveDate>, [amount, tax]: [&str; 2]) -> QuotedStage {
    QuotedStage {
        name: name.to_owned(),
        terms: terms.to_owned(),
        due,
        amount: amount.to_owned(),
        tax: tax.to_owned(),
        counted: None,
        cash: None,
    }
}

fn costs() -> Vec<QuotedCost> {
    let cost =
        |group: PriceGroup, name: &str, detail: &str, certainty, micro: i64, printed: &str| {
            QuotedCost {
                group,
                name: name.to_owned(),
                detail: detail.to_owned(),
                quantity: None,
                amount: None,
                minutes: None,
                lot: None,
                of_detail: None,
                range: None,
                certainty,
                cost: millionths(micro),
                printed: printed.to_owned(),
            }
        };
    let quantity = |cost: QuotedCost, quantity: &str, range: Option<&str>| QuotedCost {
        quantity: Some(quantity.to_owned()),
        range: range.map(str::to_owned),
        ..cost
    };
    let shell = cost(
        PriceGroup::Materials,
        "shell",
        "L17 wool twill at its last price",
        Certainty::Measured,
        143_217_300,
        "143.22",
    );
    let lining = cost(
        PriceGroup::Materials,
        "silk inner",
        "L21 viscose twill",
        Certainty::Stated,
        31_881_000,
        "31.88",
    );
    let paid = cost(
        PriceGroup::PaidLabour,
        "buttonholes",
        "Marte, 18.15 an hour",
        Certainty::Estimated,
        13_612_500,
        "13.61",
    );
    let own = cost(
        PriceGroup::OwnLabour,
        "sewing",
        "at the pay wanted of 21.35",
        Certainty::Estimated,
        209_941_666,
        "209.94",
    );
    let overhead = cost(
        PriceGroup::Overhead,
        "workroom",
        "4.91 an hour",
        Certainty::Unknown,
        51_964_167,
        "51.96",
    );
    vec![
        quantity(shell, "5.63 m", None),
        quantity(lining, "4.28 m", None),
        quantity(paid, "45 min", None),
        quantity(own, "9 h 50 min", Some("8 h 15 min to 11 h 35 min")),
        overhead,
    ]
}

fn inside() -> InternalSheet {
    let part = |name: &str, micro: i64, printed: &str| PricePart {
        name: name.to_owned(),
        amount: millionths(micro),
        printed: printed.to_owned(),
    };
    InternalSheet {
        from: PriceFrom::Plan,
        materials_at: MaterialsAt::Replacement,
        costs: costs(),
        not_priced: vec!["horsehair: no lot of it was ever bought".to_owned()],
        net: millionths(500_000_000),
        parts: vec![
            part("stuffs", 175_098_300, "175.10"),
            part("paid labour", 13_612_500, "13.61"),
            part("own labour", 209_941_666, "209.94"),
            part("overhead", 51_964_167, "51.97"),
            part("profit", 49_383_367, "49.38"),
        ],
        floor: millionths(511_616_633),
        below_floor: Some(millionths(11_616_633)),
        profit: millionths(49_383_367),
        markup_percent: Some("10.96".to_owned()),
        margin_percent: Some("9.88".to_owned()),
        own_minutes: 590,
        hour_earns: Some(millionths(26_372_037)),
        hour_wanted: Some(millionths(29_000_000)),
        details: Vec::new(),
        rule: "markup of 25 % on labour, then 7.8 % off".to_owned(),
        batch: None,
        notes: vec!["wool twill has become dearer since the spring".to_owned()],
    }
}

pub(super) fn millionths(amount: i64) -> Micro {
    Millionths::new(amount).unwrap().into()
}

pub(super) fn version(version: i64, date: NaiveDate) -> VersionHead {
    VersionHead {
        version,
        date,
        valid_until: day(11, 11),
        gross: "598.00".to_owned(),
        taken_back: false,
    }
}

pub(super) fn day(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, month, day).unwrap()
}
