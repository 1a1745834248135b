//! Nothing of the internal sheet reaches a customer.
//!
//! Every text of the internal sheet, as it travels and as it is printed, is looked for in the customer's page and in
//! the text and the raw bytes of the customer's file; and, so that the search is known to find, in the workshop's.

use super::{file, html, pdf, read::text_of, sample::ordinary};
use ellwand_contract::quotations::Quotation;
use serde_json::Value;

#[test]
fn the_customers_page_and_file_hold_nothing_of_the_workshops() {
    let quotation = ordinary();
    let secrets = secrets(&quotation);
    assert!(secrets.len() > 50, "{secrets:?}");
    let page = seen(&html(&quotation, false).unwrap());
    let text = seen(&text_of(&pdf(&quotation, false).unwrap()));
    let raw = seen(&String::from_utf8_lossy(&file(&quotation, false)));
    for secret in &secrets {
        for (form, held) in [("page", &page), ("file", &text)] {
            assert!(!has(held, secret), "the customer's {form} tells {secret:?}");
        }
        // Numbers stand there for places and lengths, too.
        let is_word = secret.chars().any(char::is_alphabetic);
        assert!(
            !is_word || !has(&raw, secret),
            "the raw file tells {secret:?}"
        );
    }
    // The styles have margins of their own.
    let page = page.split_once("</style>").unwrap().1;
    for name in [
        "internal", "workshop", "floor", "profit", "margin", "markup",
    ] {
        assert!(
            !page.contains(name) && !text.contains(name) && !raw.contains(name),
            "{name}"
        );
    }
}

#[test]
fn the_workshops_page_and_file_hold_all_of_it() {
    let quotation = ordinary();
    let page = seen(&html(&quotation, true).unwrap());
    let text = seen(&text_of(&pdf(&quotation, true).unwrap()));
    for printed in printed(&quotation) {
        assert!(has(&page, &printed), "the page does not tell {printed:?}");
        assert!(has(&text, &printed), "the file does not tell {printed:?}");
    }
}

/// What of the answer's inside is printed on the workshop's sheet.
fn printed(quotation: &Quotation) -> Vec<String> {
    let sheet = quotation.inside.as_ref().unwrap();
    let mut texts = vec![sheet.rule.clone(), "9 h 50 min".to_owned()];
    texts.extend(
        sheet
            .not_priced
            .iter()
            .chain(&sheet.notes)
            .chain(&quotation.notes)
            .cloned(),
    );
    for cost in &sheet.costs {
        texts.extend([&cost.name, &cost.detail, &cost.printed].map(String::clone));
        texts.extend(cost.quantity.iter().chain(&cost.range).cloned());
        texts.extend([cost.group.to_string(), cost.certainty.to_string()]);
    }
    texts.extend(
        sheet
            .parts
            .iter()
            .flat_map(|part| [part.name.clone(), part.printed.clone()]),
    );
    texts.extend(
        sheet
            .markup_percent
            .iter()
            .chain(&sheet.margin_percent)
            .cloned(),
    );
    let exact = [
        Some(sheet.net),
        Some(sheet.floor),
        sheet.below_floor,
        Some(sheet.profit),
        sheet.hour_earns,
    ];
    texts.extend(exact.into_iter().flatten().map(|value| value.0.rounded(2)));
    texts.extend(["the plan", "what it costs to replace them"].map(str::to_owned));
    texts.into_iter().map(|text| seen(&text)).collect()
}

/// All of that, and each value as it travels, but for what stands on the customer's sheet too.
fn secrets(quotation: &Quotation) -> Vec<String> {
    let mut texts = printed(quotation);
    leaves(
        &serde_json::to_value(&quotation.inside).unwrap(),
        &mut texts,
    );
    texts.extend(
        [
            quotation.garment.to_string(),
            quotation.customer.unwrap().to_string(),
        ]
        .map(|code| seen(&code)),
    );
    let mut shared = Vec::new();
    leaves(
        &serde_json::to_value(&quotation.sheet).unwrap(),
        &mut shared,
    );
    let shared = shared.join(" ");
    // The net price without its digits is a part of the customer's.
    texts.retain(|text| !has(&shared, text) && text != "500");
    texts
}

fn leaves(value: &Value, texts: &mut Vec<String>) {
    match value {
        Value::Array(values) => values.iter().for_each(|value| leaves(value, texts)),
        Value::Object(fields) => fields.values().for_each(|value| leaves(value, texts)),
        Value::String(text) => texts.push(seen(text)),
        Value::Number(number) => texts.push(number.to_string()),
        Value::Bool(_) | Value::Null => {}
    }
}

/// As it is compared: in small letters, one space between words, no references of HTML.
fn seen(text: &str) -> String {
    let text = text
        .replace("&#34;", "\"")
        .replace("&#39;", "'")
        .replace('\u{a0}', " ")
        .to_lowercase();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether `text` stands there as a whole: 4.91 is not in 14.91.
fn has(held: &str, text: &str) -> bool {
    let is_part = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    held.match_indices(text).any(|(at, _)| {
        !is_part(held[..at].chars().next_back()) && !is_part(held[at + text.len()..].chars().next())
    })
}
