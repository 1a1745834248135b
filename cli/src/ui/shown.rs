//! Quantities as people of the workshop read them.

use ellwand_contract::{Amount, Gsm, Metres, Micro, month::NetAmount};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Currency, Micrometres, Units},
    setting::{Kind, UnitSystem},
};

/// Units and currency for showing.
#[derive(Debug, Clone, Copy)]
pub struct Shown {
    units: Units,
    currency: Option<Currency>,
}

impl Shown {
    /// These units, and the workshop's currency.
    #[must_use]
    pub fn new(units: UnitSystem, currency: &str) -> Self {
        let units = match units {
            UnitSystem::Metric => Units::Metric,
            UnitSystem::Imperial => Units::Imperial,
        };
        Self {
            units,
            currency: currency.parse().ok(),
        }
    }

    /// The units.
    #[must_use]
    pub fn units(self) -> Units {
        self.units
    }

    /// The currency's letters.
    #[must_use]
    pub fn currency(self) -> &'static str {
        self.currency.map_or("", Currency::code)
    }

    /// `2.60 m`, `2 3/4 yd`.
    #[must_use]
    pub fn length(self, length: Metres) -> String {
        length.0.show(self.units)
    }

    /// `147.86 cm`, `60 in`.
    #[must_use]
    pub fn width(self, width: Metres) -> String {
        width.0.show_width(self.units)
    }

    /// `270 g/m²`, `8 oz/yd²`.
    #[must_use]
    pub fn mass(self, mass: Gsm) -> String {
        mass.0.show(self.units)
    }

    /// What is there of a length, or a count as a bare number.
    #[must_use]
    pub fn amount(self, amount: Amount) -> String {
        match amount {
            Amount::LengthM(length) => self.length(length),
            Amount::Count(count) => count.to_string(),
        }
    }

    /// The same of a kind: thread to the centimetre.
    #[must_use]
    pub fn amount_of(self, kind: Kind, amount: Amount) -> String {
        match amount {
            Amount::LengthM(length) if kind == Kind::Thread => length.0.show_thread(self.units),
            amount => self.amount(amount),
        }
    }

    /// What is needed, promised or taken of a length, or a count.
    #[must_use]
    pub fn taken(self, amount: Amount) -> String {
        match amount {
            Amount::LengthM(length) => length.0.show_taken(self.units),
            amount => self.amount(amount),
        }
    }

    /// The same of a kind: thread to the centimetre.
    #[must_use]
    pub fn taken_of(self, kind: Kind, amount: Amount) -> String {
        match amount {
            Amount::LengthM(length) if kind == Kind::Thread => self.thread(Metres(length.0)),
            amount => self.taken(amount),
        }
    }

    /// Thread that is needed.
    #[must_use]
    pub fn thread(self, length: Metres) -> String {
        length.0.show_thread_taken(self.units)
    }

    /// A length or a number that may be below zero, which has its sign then; nothing for none.
    #[must_use]
    pub fn net(self, amount: NetAmount) -> String {
        match amount {
            NetAmount::Count(0) => String::new(),
            NetAmount::Count(count) => count.to_string(),
            NetAmount::LengthM(length) if length.0 == 0 => String::new(),
            NetAmount::LengthM(length) => {
                let sign = if length.0 < 0 { "-" } else { "" };
                // A year's thread is longer than any one length may be.
                let text = Micrometres::new(length.0.saturating_abs()).unwrap_or(Micrometres::MAX);
                format!("{sign}{}", self.length(Metres(text)))
            }
        }
    }

    /// A quantity with its text from the answer: a length in these units, anything else as that text.
    #[must_use]
    pub fn quantity(self, amount: Option<Amount>, text: Option<&str>) -> String {
        match (amount, text) {
            (Some(amount @ Amount::LengthM(_)), Some(_)) => self.taken(amount),
            (_, text) => text.unwrap_or_default().to_owned(),
        }
    }

    /// A value in minor units of the workshop's currency, halves up: `85.94`.
    #[must_use]
    pub fn value(self, value: Micro) -> String {
        value.0.rounded(self.currency.map_or(2, Currency::digits))
    }

    /// The same for a value that may be hidden, which is shown as nothing.
    #[must_use]
    pub fn optional_value(self, value: Option<Micro>) -> String {
        value.map(|value| self.value(value)).unwrap_or_default()
    }

    /// A cost that may be hidden, `30.00 est.` where it rests on a replacement price; `not priced` where it is not known.
    #[must_use]
    pub fn cost(self, value: Option<Micro>, certainty: Certainty) -> String {
        match (value, certainty) {
            (_, Certainty::Unknown) => "not priced".to_owned(),
            (Some(value), Certainty::Estimated) => format!("{} est.", self.value(value)),
            (value, _) => self.optional_value(value),
        }
    }

    /// The same with the currency: `85.94 EUR`.
    #[must_use]
    pub fn money(self, value: Micro) -> String {
        format!("{} {}", self.value(value), self.currency())
            .trim_end()
            .to_owned()
    }
}
