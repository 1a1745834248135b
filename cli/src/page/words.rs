//! Words, amounts and dates on a sheet, in the workshop's own language.

use chrono::{Datelike, NaiveDate};
use ellwand_contract::{
    quotations::{CustomerSheet, MadeOf, QuotedStage},
    text::shown,
    words::{Label, Words},
};

/// How a sheet is worded: the words that its version froze, and the usual ones.
#[derive(Clone, Copy)]
pub(super) struct Wording<'w>(&'w Words);

impl<'w> Wording<'w> {
    /// The wording of a sheet.
    pub(super) fn of_sheet(sheet: &'w CustomerSheet) -> Self {
        Self(&sheet.words)
    }

    /// The words of a label.
    pub(super) fn word(self, label: Label) -> &'w str {
        self.0
            .get(label.key())
            .map_or(label.usual(), String::as_str)
    }

    /// The same with what stands in their places: `Replaced by version {version}.`
    pub(super) fn fill(self, label: Label, places: &[(&str, &str)]) -> String {
        filled(self.word(label), places)
    }

    /// Words before an amount or a currency: `Price in EUR`.
    pub(super) fn before(self, label: Label, text: &str) -> String {
        format!("{} {text}", self.word(label))
    }

    /// An amount: `1234.50` as `1.234,50` where that is the way.
    pub(super) fn money(self, amount: &str) -> String {
        let (sign, digits) = match amount.strip_prefix('-') {
            Some(digits) => ("-", digits),
            None => ("", amount),
        };
        let (whole, part) = match digits.split_once('.') {
            Some((whole, part)) => (whole, Some(part)),
            None => (digits, None),
        };
        let group = self.word(Label::GroupMark);
        let mut grouped = String::new();
        for (at, digit) in whole.chars().enumerate() {
            if at > 0 && whole.len().saturating_sub(at).is_multiple_of(3) {
                grouped.push_str(group);
            }
            grouped.push(digit);
        }
        match part {
            Some(part) => format!("{sign}{grouped}{}{part}", self.word(Label::DecimalMark)),
            None => format!("{sign}{grouped}"),
        }
    }

    /// `12 October 2026`.
    pub(super) fn date(self, date: NaiveDate) -> String {
        let (day, month, year) = (
            date.day().to_string(),
            date.month().to_string(),
            date.year().to_string(),
        );
        let names = self.word(Label::Months).split(',');
        let at = usize::try_from(date.month0()).unwrap_or_default();
        let name = names.map(str::trim).nth(at).unwrap_or_default();
        self.fill(
            Label::Date,
            &[
                ("{day}", &day),
                ("{month}", &month),
                ("{month_name}", name),
                ("{year}", &year),
            ],
        )
    }

    /// `18.4` in percent: `18.4 %`.
    pub(super) fn percent(self, number: &str) -> String {
        percent(&self.number(number))
    }

    fn number(self, number: &str) -> String {
        number.replace('.', self.word(Label::DecimalMark))
    }

    /// A line of the price: `Materials`, `Discount 10 %`.
    pub(super) fn line(self, text: &str) -> String {
        let lines = [
            Label::Materials,
            Label::Labour,
            Label::Handling,
            Label::Rounding,
        ];
        if let Some(label) = lines.into_iter().find(|label| label.usual() == text) {
            return self.word(label).to_owned();
        }
        match text.strip_prefix(Label::Discount.usual()) {
            Some(share) if share.starts_with(' ') => {
                format!("{}{}", self.word(Label::Discount), self.number(share))
            }
            _ => text.to_owned(),
        }
    }

    /// The material of a part.
    pub(super) fn material(self, part: &'w MadeOf) -> &'w str {
        let material = part.material.as_deref();
        material.unwrap_or(self.word(Label::ToBeChosen))
    }

    /// What a plan or a stage is called, where nobody named it.
    pub(super) fn name(self, text: &str) -> String {
        let names = [Label::AsPlanned, Label::OnDelivery];
        let label = names.into_iter().find(|label| label.usual() == text);
        label.map_or_else(|| text.to_owned(), |label| self.word(label).to_owned())
    }

    /// What a stage was agreed as: `40% of gross`, `the rest`; nothing for an amount, which is its own terms.
    pub(super) fn terms(self, stage: &QuotedStage) -> String {
        if stage.terms == stage.amount {
            return String::new();
        }
        if stage.terms == Label::TheRest.usual() {
            return self.word(Label::TheRest).to_owned();
        }
        let parts = stage.terms.split('+').map(|part| self.term(part.trim()));
        let terms = parts.collect::<Vec<_>>().join(" + ");
        let counted = [
            Label::BeforeDiscountAndTax,
            Label::BeforeDiscount,
            Label::BeforeTax,
        ];
        let counted = counted
            .into_iter()
            .find(|label| stage.counted.as_deref() == Some(label.usual()));
        match counted {
            Some(counted) => format!("{terms}, {}", self.word(counted)),
            None => terms,
        }
    }

    fn term(self, text: &str) -> String {
        let part = |text: &str| {
            let parts = [
                Label::OfGross,
                Label::OfLabour,
                Label::OfMaterials,
                Label::OfLabourWithTax,
                Label::OfMaterialsWithTax,
            ];
            let asked = text.trim().to_lowercase().replace('-', " ");
            let found = parts.into_iter().find(|label| label.usual() == asked);
            found.map_or_else(|| text.to_owned(), |label| self.word(label).to_owned())
        };
        match text.split_once(" of ") {
            Some((share, of)) => {
                format!(
                    "{} {} {}",
                    self.number(share),
                    self.word(Label::Of),
                    part(of)
                )
            }
            None if text.starts_with(|letter: char| letter.is_ascii_digit()) => self.money(text),
            None => part(text),
        }
    }
}

/// A text with what stands in its places; what is put there is not looked at again.
fn filled(text: &str, places: &[(&str, &str)]) -> String {
    let next = |text: &str| {
        places
            .iter()
            .filter_map(|(place, value)| Some((text.find(place)?, *place, *value)))
            .min_by_key(|(at, ..)| *at)
    };
    let (mut rest, mut all) = (text, String::new());
    while let Some((at, place, value)) = next(rest) {
        all.push_str(rest.get(..at).unwrap_or_default());
        all.push_str(value);
        rest = rest
            .get(at.saturating_add(place.len())..)
            .unwrap_or_default();
    }
    all + rest
}

/// `18.4` in percent: `18.4 %`.
pub(super) fn percent(number: &str) -> String {
    format!("{number}\u{a0}%")
}

/// Typed text as a page may hold it: line breaks stay, a tab is a space, what is not seen is a mark.
pub(super) fn clean(text: &str) -> String {
    shown(
        &text
            .replace("\r\n", "\n")
            .replace('\r', "\n")
            .replace('\t', " "),
    )
    .trim()
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn danish() -> Words {
        let words = [
            ("decimal_mark", ","),
            ("group_mark", "."),
            ("date", "{day}. {month_name} {year}"),
            (
                "months",
                "januar, februar, marts, april, maj, juni, juli, august, september, oktober, november, december",
            ),
            ("materials", "Materialer"),
            ("discount", "Rabat"),
            ("of", "af"),
            ("of_gross", "prisen"),
            ("of_materials_with_tax", "materialer med moms"),
            ("before_tax", "før moms"),
            ("on_delivery", "ved levering"),
        ];
        words
            .map(|(key, word)| (key.to_owned(), word.to_owned()))
            .into()
    }

    /// Marks and order as Danish has them (from memory).
    #[test]
    fn amounts_and_dates_are_written_as_the_language_has_them() {
        let (words, none) = (danish(), Words::new());
        let (own, usual) = (Wording(&words), Wording(&none));
        for (amount, expected) in [
            ("0.50", "0,50"),
            ("123.45", "123,45"),
            ("1234.50", "1.234,50"),
            ("-1234567.00", "-1.234.567,00"),
            ("12000", "12.000"),
        ] {
            assert_eq!(own.money(amount), expected);
            assert_eq!(usual.money(amount), amount);
        }
        let day = NaiveDate::from_ymd_opt(2026, 12, 1).expect("a day");
        assert_eq!(
            (own.date(day), usual.date(day)),
            ("1. december 2026".to_owned(), "1 December 2026".to_owned())
        );
        let slashes = Words::from([("date".to_owned(), "{month}/{day}/{year}".to_owned())]);
        assert_eq!(Wording(&slashes).date(day), "12/1/2026");
    }

    #[test]
    fn what_the_program_words_is_in_the_workshops_words() {
        let words = danish();
        let own = Wording(&words);
        assert_eq!(own.line("Materials"), "Materialer");
        assert_eq!(own.line("Discount 7.5 %"), "Rabat 7,5 %");
        assert_eq!(own.line("Discounted wool"), "Discounted wool");
        assert_eq!(own.name("on delivery"), "ved levering");
        let stage = |terms: &str, counted: Option<&str>| QuotedStage {
            name: "deposit".to_owned(),
            terms: terms.to_owned(),
            counted: counted.map(str::to_owned),
            due: None,
            amount: "9.00".to_owned(),
            tax: "0.00".to_owned(),
            cash: None,
        };
        for (terms, counted, expected) in [
            ("12.5% of gross", None, "12,5% af prisen"),
            (
                "materials with tax + 1200.00",
                None,
                "materialer med moms + 1.200,00",
            ),
            (
                "50% of labour",
                Some("before tax"),
                "50% af labour, før moms",
            ),
            ("the rest", None, "the rest"),
            ("9.00", None, ""),
        ] {
            assert_eq!(own.terms(&stage(terms, counted)), expected);
        }
    }

    #[test]
    fn what_is_put_in_a_place_is_no_place_itself() {
        assert_eq!(
            filled("{a} and {b}", &[("{a}", "{b}"), ("{b}", "c")]),
            "{b} and c"
        );
        assert_eq!(filled("{c}", &[("{a}", "b")]), "{c}");
    }

    #[test]
    fn typed_text_keeps_its_lines_and_loses_what_is_not_seen() {
        assert_eq!(
            clean(" half now\r\n\trest\u{202e} later "),
            "half now\n rest\u{fffd} later"
        );
    }
}
