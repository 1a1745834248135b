//! Words of what customers read, so that a sheet can be in the workshop's own language.

use crate::{act::act, text, workshop::Workshop};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use uuid::Uuid;

/// The workshop's own words by the key of their label; a label that is not among them has its usual words.
pub type Words = BTreeMap<String, String>;

/// Sets the words of what customers read, all of them: a label that is left out has its usual words.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetWords {
    /// Request id.
    pub id: Uuid,
    /// Words by the key of their label: `{"quotation": "Angebot"}`.
    #[serde(default)]
    pub words: Words,
}
act!(post SetWords => Workshop, "set_words", "/v1/workshop/words", "Sets the words of what customers read; none: the usual ones.", needs Settings; conceals);

macro_rules! labels {
    ($($about:literal { $($label:ident $key:literal = $word:literal,)+ })+) => {
        /// What words are for.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        #[expect(missing_docs, reason = "each stands beside its words")]
        pub enum Label { $($($label,)+)+ }

        impl Label {
            /// All of them.
            pub const ALL: &'static [Self] = &[$($(Self::$label,)+)+];
            /// In groups, each with what it is about.
            pub const GROUPS: &'static [(&'static str, &'static [Self])] = &[$(($about, &[$(Self::$label,)+]),)+];

            /// Its name in a file.
            #[must_use]
            pub const fn key(self) -> &'static str {
                match self { $($(Self::$label => $key,)+)+ }
            }

            /// Its usual words.
            #[must_use]
            pub const fn usual(self) -> &'static str {
                match self { $($(Self::$label => $word,)+)+ }
            }
        }
    };
}

labels! {
    "Language (as in en, da, de-AT), numbers and dates. group_mark may be empty; of {month} and {month_name} a date has one." {
        Language "language" = "en",
        DecimalMark "decimal_mark" = ".",
        GroupMark "group_mark" = "",
        Date "date" = "{day} {month_name} {year}",
        Months "months" = "January, February, March, April, May, June, July, August, September, October, November, December",
        Page "page" = "page {page} of {pages}",
    }
    "The head of a sheet." {
        Quotation "quotation" = "Quotation",
        Version "version" = "version",
        Telephone "telephone" = "Telephone",
        TaxNumber "tax_number" = "Tax number",
        Account "account" = "Account",
        For "for" = "For",
        What "what" = "What",
        HowMany "how_many" = "How many",
        SupplementTo "supplement_to" = "Supplement to",
        AgreedSoFar "agreed_so_far" = "agreed so far",
        TotalWithThis "total_with_this" = "Total with this",
        Day "day" = "Date",
        ValidUntil "valid_until" = "Valid until",
        Delivery "delivery" = "Delivery",
    }
    "What it is made of." {
        MadeOf "made_of" = "Made of",
        Part "part" = "Part",
        ToBeChosen "to_be_chosen" = "to be chosen",
        AsPlanned "as_planned" = "as planned",
    }
    "Prices; a currency stands after the headings." {
        PriceIn "price_in" = "Price in",
        OptionsIn "options_in" = "Price of each option in",
        Line "line" = "Line",
        Amount "amount" = "Amount",
        TaxRate "tax_rate" = "Tax rate",
        Materials "materials" = "Materials",
        Labour "labour" = "Labour",
        Handling "handling" = "Handling",
        Discount "discount" = "Discount",
        Rounding "rounding" = "Rounding",
        Net "net" = "Net",
        Tax "tax" = "Tax",
        Gross "gross" = "Gross",
        ToBePaid "to_be_paid" = "Gross, to be paid",
        PricedSoFar "priced_so_far" = "Gross, priced so far",
        NotPriced "not_priced" = "not priced",
        InCash "in_cash" = "In cash",
        InCashAtOnce "in_cash_at_once" = "In cash, paid at once",
        NoTax "no_tax" = "No tax is charged on these amounts.",
        WithoutTax "without_tax" = "Line amounts are without tax, which is added below.",
        WithTax "with_tax" = "Line amounts include tax.",
        TaxIn "tax_in" = "Tax by rate in",
        Rate "rate" = "Rate",
        Percent "percent" = "Percent",
    }
    "Payment; a currency stands after the heading. A stage is worded as in: 40% of gross." {
        PaymentIn "payment_in" = "Payment in",
        Stage "stage" = "Stage",
        Due "due" = "Due",
        WhenReached "when_reached" = "when reached",
        TaxInIt "tax_in_it" = "Tax in it",
        Of "of" = "of",
        OfGross "of_gross" = "gross",
        OfLabour "of_labour" = "labour",
        OfMaterials "of_materials" = "materials",
        OfLabourWithTax "of_labour_with_tax" = "labour with tax",
        OfMaterialsWithTax "of_materials_with_tax" = "materials with tax",
        TheRest "the_rest" = "the rest",
        BeforeDiscountAndTax "before_discount_and_tax" = "before discount and tax",
        BeforeDiscount "before_discount" = "before discount",
        BeforeTax "before_tax" = "before tax",
        OnDelivery "on_delivery" = "on delivery",
        CashRounding "cash_rounding" = "Cash is rounded to the nearest {step}, half a step up. The price itself does not change.",
        Terms "terms" = "Terms",
    }
    "How an offer stands, and where it is signed." {
        Replaced "replaced" = "Replaced by version {version}.",
        Withdrawn "withdrawn" = "Withdrawn: version {version} applies.",
        Accepted "accepted" = "Accepted: {what}.",
        Closed "closed" = "Closed: this offer is no longer valid.",
        Cancelled "cancelled" = "Cancelled: {what}, and the order was then cancelled.",
        VersionAccepted "version_accepted" = "version {version} was accepted",
        ThisAccepted "this_accepted" = "this version was accepted",
        OptionAccepted "option_accepted" = "{option} of this version was accepted",
        NoOffer "no_offer" = "Not an offer yet; not priced: {what}.",
        ChosenOption "chosen_option" = "Chosen option",
        PlaceAndDate "place_and_date" = "Place and date",
        Signature "signature" = "Signature",
    }
    "Receipts." {
        Receipt "receipt" = "Receipt",
        Received "received" = "Received",
        PaidBack "paid_back" = "Paid back",
        ReceivedOn "received_on" = "Day of payment",
        How "how" = "How",
        Cash "cash" = "in cash",
        Note "note" = "Note",
        Agreed "agreed" = "Agreed in all",
        PaidSoFar "paid_so_far" = "Paid so far, with this",
        StillToPay "still_to_pay" = "Still to be paid",
    }
}

/// Places of a date. It has one each for the day and the year, and one of both for the month.
const OF_A_DATE: [&str; 4] = ["{day}", "{month}", "{month_name}", "{year}"];

impl Label {
    /// The label of a key.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|label| label.key() == key)
    }

    /// What is wrong with words of the workshop's own.
    fn slip(self, words: &str) -> Option<String> {
        let (key, letters) = (self.key(), words.chars().count());
        let digit = words.chars().any(char::is_numeric);
        let count = |place: &&str| words.matches(*place).count();
        let wrong = match self {
            Self::GroupMark if letters > 1 || digit => "give one mark, or nothing",
            Self::GroupMark => return None,
            _ if words.trim().is_empty() => "write its words, or leave the line out",
            _ if letters > text::NOTE => "that is too long for a sheet",
            Self::DecimalMark if letters != 1 || digit => "give one mark, such as , or .",
            Self::Language
                if !words
                    .bytes()
                    .all(|letter| letter.is_ascii_alphanumeric() || letter == b'-') =>
            {
                "give its code, such as da or de-AT"
            }
            Self::Months
                if words
                    .split(',')
                    .filter(|name| !name.trim().is_empty())
                    .count()
                    != 12 =>
            {
                "name twelve months, with commas between them"
            }
            Self::Date
                if [0, 3].iter().any(|at| count(&OF_A_DATE[*at]) != 1)
                    || count(&OF_A_DATE[1]) + count(&OF_A_DATE[2]) != 1 =>
            {
                "write it as in {day}.{month}.{year} or {day} {month_name} {year}"
            }
            _ => return None,
        };
        Some(format!("{key} = \"{words}\": {wrong}"))
    }
}

/// What is wrong with words: each with its key, and with the nearest label for one that is none.
#[must_use]
pub fn slips(words: &Words) -> Vec<(String, String)> {
    let known: Vec<String> = Label::ALL
        .iter()
        .map(|label| label.key().to_owned())
        .collect();
    let mut all = Vec::new();
    for (key, value) in words {
        let slip = match (Label::of_key(key), text::nearest(key, &known)) {
            (Some(label), _) => label.slip(value),
            (None, Some(near)) => Some(format!("there is no label {key}; did you mean {near}?")),
            (None, None) => Some(format!("there is no label {key}")),
        };
        all.extend(slip.map(|slip| (key.clone(), slip)));
    }
    let mark = |label: Label| words.get(label.key()).map_or(label.usual(), String::as_str);
    if mark(Label::DecimalMark) == mark(Label::GroupMark) {
        let slip = "decimal_mark and group_mark are the same".to_owned();
        all.push((Label::GroupMark.key().to_owned(), slip));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_one_each_and_the_usual_words_are_in_order() {
        let keys: std::collections::BTreeSet<&str> =
            Label::ALL.iter().map(|label| label.key()).collect();
        assert_eq!(keys.len(), Label::ALL.len());
        let usual = Label::ALL
            .iter()
            .map(|label| (label.key().to_owned(), label.usual().to_owned()));
        assert_eq!(slips(&usual.collect()), []);
    }

    #[test]
    fn what_is_wrong_with_words_is_said_of_each() {
        for (key, value, slip) in [
            ("quotatoin", "Tilbud", "did you mean quotation?"),
            ("xyzzy", "Tilbud", "there is no label xyzzy"),
            ("quotation", " ", "write its words"),
            ("decimal_mark", ",,", "one mark"),
            ("decimal_mark", "1", "one mark"),
            ("group_mark", "12", "one mark"),
            ("group_mark", ".", "are the same"),
            ("language", "dänisch", "its code"),
            ("months", "januar, februar", "twelve"),
            ("date", "{day}/{year}", "{day}.{month}.{year}"),
            (
                "date",
                "{day} {month} {month_name} {year}",
                "{day}.{month}.{year}",
            ),
        ] {
            let words = Words::from([(key.to_owned(), value.to_owned())]);
            let found = slips(&words);
            assert!(
                found.len() == 1 && found[0].1.contains(slip),
                "{key}: {found:?}"
            );
        }
        let danish = [
            ("decimal_mark", ","),
            ("group_mark", "."),
            ("date", "{day}.{month}.{year}"),
        ];
        let words = danish.map(|(key, word)| (key.to_owned(), word.to_owned()));
        assert_eq!(slips(&Words::from(words)), []);
    }
}
