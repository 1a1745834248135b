//! Required wording of a sheet.

use super::{
    super::pdf::Drawn,
    html, pdf,
    read::text_of,
    sample::{crowded, day, millionths, ordinary, version},
};
use ellwand_contract::quotations::{Quotation, QuotedBatch, Supplement};
use ellwand_domain::{
    code::QuotationCode,
    setting::{PricesShown, QuotationState},
};

/// The page and the text of the file.
fn forms(quotation: &Quotation, inside: bool) -> [String; 2] {
    [
        html(quotation, inside).unwrap(),
        text_of(&pdf(quotation, inside).unwrap()),
    ]
}

#[track_caller]
fn says(quotation: &Quotation, inside: bool, text: &str) -> bool {
    let [page, file] = forms(quotation, inside).map(|form| form.contains(text));
    assert_eq!(page, file, "page and file differ about {text:?}");
    page
}

#[test]
fn every_amount_of_the_sheet_stands_in_both_forms() {
    for quotation in [ordinary(), crowded()] {
        let sheet = &quotation.sheet;
        let mut amounts = vec![&sheet.net, &sheet.tax, &sheet.gross];
        amounts.extend(sheet.lines.iter().map(|line| &line.amount));
        amounts.extend(
            sheet
                .rates
                .iter()
                .flat_map(|rate| [&rate.net, &rate.tax, &rate.gross]),
        );
        amounts.extend(
            sheet
                .stages
                .iter()
                .flat_map(|stage| [&stage.amount, &stage.tax]),
        );
        let [page, file] = forms(&quotation, false);
        for amount in amounts {
            assert!(
                page.contains(&format!(">{amount}<")),
                "the page does not tell {amount}"
            );
            assert!(
                file.split(' ').any(|word| word == amount),
                "the file does not tell {amount}"
            );
        }
    }
}

#[test]
fn the_customer_reads_for_whom_and_what_it_is_and_when() {
    let quotation = ordinary();
    let expected = [
        "Quotation Q3, version 2",
        "Jördis Überwasser",
        "12 October 2026",
        "11 November 2026",
    ];
    let stages = [
        "first fitting",
        "40% of gross",
        "20 October 2026",
        "when reached",
        "secures the cloth.",
    ];
    for text in expected.into_iter().chain(stages) {
        assert!(says(&quotation, false, text), "{text}");
    }
}

#[test]
fn the_currency_is_reported_once_for_each_table() {
    for (inside, tables) in [(false, 3), (true, 6)] {
        assert_eq!(
            forms(&ordinary(), inside).map(|form| form.matches("EUR").count()),
            [tables; 2]
        );
    }
}

#[test]
fn whether_amounts_hold_tax_is_said() {
    let mut quotation = ordinary();
    assert!(says(
        &quotation,
        false,
        "Line amounts are without tax, which is added below."
    ));
    quotation.sheet.shown = PricesShown::WithTax;
    assert!(says(&quotation, false, "Line amounts include tax."));
    quotation.sheet.rates.clear();
    assert!(says(
        &quotation,
        false,
        "No tax is charged on these amounts."
    ));
}

#[test]
fn a_line_names_its_rate_only_where_there_are_several() {
    let mut quotation = ordinary();
    assert!(says(&quotation, false, "Tax rate"));
    quotation.sheet.rates.truncate(1);
    assert!(!says(&quotation, false, "Tax rate"));
}

#[test]
fn a_quotation_that_is_not_open_says_so() {
    let mut quotation = ordinary();
    for word in ["Replaced", "Accepted", "Closed", "Cancelled"] {
        assert!(!says(&quotation, false, word), "an open one says {word}");
    }
    let mut now = |state, accepted| {
        (quotation.state, quotation.accepted) = (state, accepted);
        quotation.clone()
    };
    let accepted = now(QuotationState::Accepted, Some(2));
    assert!(says(
        &accepted,
        false,
        "Accepted: this version was accepted."
    ));
    let accepted = now(QuotationState::Accepted, Some(1));
    assert!(says(&accepted, false, "Accepted: version 1 was accepted."));
    assert!(says(
        &now(QuotationState::Closed, None),
        false,
        "Closed: this offer is no longer valid."
    ));
    assert!(says(
        &now(QuotationState::Cancelled, Some(2)),
        false,
        "Cancelled: this version was accepted"
    ));
    let mut older = now(QuotationState::Open, None);
    older.versions.push(version(3, day(10, 14)));
    assert!(says(&older, false, "Replaced by version 3."));
    older.version = 3;
    (older.versions[2].taken_back, older.versions[0].taken_back) = (true, true);
    assert!(says(&older, false, "Withdrawn: version 2 applies."));
}

#[test]
fn a_supplement_says_what_it_comes_on_top_of() {
    let mut quotation = ordinary();
    assert!(!says(&quotation, false, "Supplement to"));
    quotation.sheet.supplement = Some(Supplement {
        to: QuotationCode::new(2),
        agreed: "801.71".to_owned(),
        together: "1399.71".to_owned(),
    });
    assert!(says(&quotation, false, "Q2, 801.71 EUR agreed so far"));
    assert!(says(&quotation, false, "1399.71 EUR"));
}

#[test]
fn a_batch_is_reported_for_each_good_one_inside_only() {
    let mut quotation = ordinary();
    let inside = quotation.inside.as_mut().unwrap();
    inside.batch = Some(QuotedBatch {
        started: 40,
        good: 35,
        spoiled: 5,
        cost_each: millionths(1_000_000_000),
        cost_each_printed: "1000.00".to_owned(),
        net_each: millionths(1_250_000_000),
        net_each_printed: "1250.00".to_owned(),
        loss: millionths(4_000_000_000),
        loss_printed: "4000.00".to_owned(),
    });
    for words in [
        "Cost of each",
        "of 35 good, 5 spoiled",
        "1250.00",
        "4000.00",
    ] {
        assert!(
            says(&quotation, true, words) && !says(&quotation, false, words),
            "{words}"
        );
    }
}

#[test]
fn a_loss_is_reported_beside_the_bars_and_has_none() {
    let mut quotation = ordinary();
    let bars = |quotation: &Quotation| {
        let file = pdf(quotation, true).unwrap();
        let drawn = file.iter().flat_map(|page| &page.strokes);
        [
            html(quotation, true).unwrap().matches("<rect").count(),
            drawn
                .filter(|stroke| matches!(stroke, Drawn::Bar { .. }))
                .count(),
        ]
    };
    assert_eq!(bars(&quotation), [5, 5]);
    assert!(!says(&quotation, true, "below zero"));
    let profit = quotation.inside.as_mut().unwrap().parts.last_mut().unwrap();
    (profit.amount, profit.printed) = (millionths(-49_383_367), "-49.38".to_owned());
    assert_eq!(bars(&quotation), [4, 4]);
    assert!(says(&quotation, true, "below zero: not drawn") && says(&quotation, true, "-49.38"));
}

#[test]
fn a_price_above_the_floor_is_not_reported_below_it() {
    let mut quotation = ordinary();
    assert!(says(&quotation, true, "The price is below the floor by"));
    quotation.inside.as_mut().unwrap().below_floor = None;
    assert!(says(&quotation, true, "The price is not below the floor"));
    assert!(!says(&quotation, true, "below the floor by"));
}

#[test]
fn what_is_not_priced_is_a_list_and_no_list_when_all_is() {
    let mut quotation = ordinary();
    assert!(
        says(&quotation, true, "Not priced") && says(&quotation, true, "horsehair: no lot of it")
    );
    quotation.inside.as_mut().unwrap().not_priced.clear();
    assert!(!says(&quotation, true, "Not priced"));
}

#[test]
fn the_caution_stands_once_on_the_workshops_sheet() {
    const CAUTION: &str = "Figures for planning. Tax, deposits and terms follow local law and an accountant's advice.";
    let count = |inside| {
        forms(&ordinary(), inside).map(|form| form.replace("&#39;", "'").matches(CAUTION).count())
    };
    assert_eq!([count(false), count(true)], [[0, 0], [1, 1]]);
}
