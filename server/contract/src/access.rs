//! Who may do what, and what they may see.

use crate::Problem;
use ellwand_domain::{
    quantity::Currency,
    setting::{Grant, Role},
};
use serde_json::Value;

/// What an act needs of the person who asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Access {
    /// To be signed in.
    Read,
    /// To see prices.
    Prices,
    /// To see what hours cost.
    SeePayRates,
    /// To do daily work: to cut, wash, measure, promise, log own hours.
    Daily,
    /// To give away, sell or discard what is on the shelf, or give up cut material.
    WriteOffs,
    /// To plan and to buy: a maker's work.
    Trade,
    /// To set what hours cost.
    PayRates,
    /// To change the workshop's settings.
    Settings,
    /// To prove the books.
    Books,
    /// To close the books.
    CloseBooks,
    /// To see tokens.
    SeePeople,
    /// To issue and revoke tokens.
    People,
}

impl Access {
    /// True for acts that change nothing.
    #[must_use]
    pub const fn reads(self) -> bool {
        matches!(
            self,
            Self::Read | Self::Prices | Self::SeePayRates | Self::Books | Self::SeePeople
        )
    }

    /// The grant that allows it to people whose role does not.
    #[must_use]
    pub const fn grant(self) -> Option<Grant> {
        match self {
            Self::Read | Self::Daily | Self::Trade => None,
            Self::Prices => Some(Grant::Prices),
            Self::SeePayRates | Self::PayRates => Some(Grant::PayRates),
            Self::WriteOffs => Some(Grant::WriteOffs),
            Self::Settings => Some(Grant::Settings),
            Self::Books | Self::CloseBooks => Some(Grant::Books),
            Self::SeePeople | Self::People => Some(Grant::People),
        }
    }

    /// True when a role with these grants is allowed to. A viewer only reads, whatever is granted.
    #[must_use]
    pub fn allows(self, role: Role, grants: &[Grant]) -> bool {
        let granted = self.grant().is_some_and(|grant| has(role, grants, grant));
        match role {
            Role::Owner => true,
            Role::Maker => granted || matches!(self, Self::Read | Self::Daily | Self::Trade),
            Role::Apprentice => matches!(self, Self::Read | Self::Daily),
            Role::Viewer => self.reads() && (granted || self == Self::Read),
        }
    }
}

/// True when a role has what a grant gives, by itself or by the grant: an owner has all, a maker sees prices, an apprentice has
/// none.
#[must_use]
pub fn has(role: Role, grants: &[Grant], grant: Grant) -> bool {
    match role {
        Role::Owner => true,
        Role::Maker if grant == Grant::Prices => true,
        Role::Apprentice => false,
        Role::Maker | Role::Viewer => grants.contains(&grant),
    }
}

/// What a reader may see beyond what everyone may.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sees {
    /// Prices, costs, stock values.
    pub prices: bool,
    /// What hours cost.
    pub pay_rates: bool,
    /// Measurements of customers: whoever works for them.
    pub measures: bool,
}

impl Sees {
    /// What a role with these grants sees.
    #[must_use]
    pub fn of(role: Role, grants: &[Grant]) -> Self {
        Self {
            prices: has(role, grants, Grant::Prices),
            pay_rates: has(role, grants, Grant::PayRates),
            measures: role != Role::Viewer,
        }
    }
}

/// An answer that shows more to some readers than to others.
pub(crate) trait Conceal {
    /// Clears what the reader may not see.
    fn conceal(&mut self, sees: Sees);
}

impl<T: Conceal> Conceal for [T] {
    fn conceal(&mut self, sees: Sees) {
        self.iter_mut().for_each(|item| item.conceal(sees));
    }
}

impl<T: Conceal> Conceal for Option<T> {
    fn conceal(&mut self, sees: Sees) {
        self.iter_mut().for_each(|item| item.conceal(sees));
    }
}

/// Takes amounts of money out of every text of an answer: sentences of bookings, remarks, what people typed. True when there
/// were any.
pub fn strike_amounts(tree: &mut Value) -> bool {
    match tree {
        Value::String(text) => match without_amounts(text) {
            Some(kept) => {
                *text = kept;
                true
            }
            None => false,
        },
        Value::Array(items) => items
            .iter_mut()
            .fold(false, |struck, item| strike_amounts(item) | struck),
        Value::Object(fields) => fields
            .values_mut()
            .fold(false, |struck, field| strike_amounts(field) | struck),
        Value::Null | Value::Bool(_) | Value::Number(_) => false,
    }
}

impl Problem {
    /// Takes out of a refusal what its reader may not see: amounts in its texts, and fields that hold them.
    pub fn conceal(&mut self, sees: Sees) {
        if sees.prices {
            return;
        }
        let texts = [Some(&mut self.detail), self.hint.as_mut()];
        for text in texts.into_iter().flatten() {
            if let Some(kept) = without_amounts(text) {
                *text = kept;
            }
        }
        self.numbers
            .retain(|name, _| !name.ends_with("_millionths"));
        self.numbers.values_mut().for_each(|value| {
            strike_amounts(value);
        });
    }
}

/// What stands in place of an amount of money.
const AMOUNT: &str = "an amount";
/// Letters of a currency.
const CODE: usize = 3;

/// `Charged 12.00 GBP on P1.` without what was charged; none where no amount is in it. An amount is a number beside the letters
/// of a currency, in either order, or in one word with them.
fn without_amounts(text: &str) -> Option<String> {
    let lines: Vec<Option<String>> = text.split('\n').map(line_without_amounts).collect();
    if lines.iter().all(Option::is_none) {
        return None;
    }
    let kept = lines.into_iter().zip(text.split('\n'));
    let kept = kept.map(|(struck, line)| struck.unwrap_or_else(|| line.to_owned()));
    Some(kept.collect::<Vec<_>>().join("\n"))
}

fn line_without_amounts(line: &str) -> Option<String> {
    let words: Vec<&str> = line.split(' ').collect();
    let (mut kept, mut at, mut struck) = (Vec::with_capacity(words.len()), 0, false);
    while let Some(word) = words.get(at) {
        let next = words.get(at + 1).filter(|next| is_amount(word, next));
        let last = match next {
            Some(next) => next,
            None if is_whole_amount(bare(word)) => word,
            None => {
                kept.push((*word).to_owned());
                at += 1;
                continue;
            }
        };
        let signs = |letter: char| !letter.is_alphanumeric() && !matches!(letter, '-' | '−');
        let before: String = word.chars().take_while(|letter| signs(*letter)).collect();
        let sign = |letter: char| !letter.is_alphanumeric();
        let after = match next.is_none() || is_number(bare(last)) {
            true => last.rsplit(char::is_alphanumeric).next(),
            false => last.trim_start_matches(sign).get(CODE..),
        };
        kept.push(format!("{before}{AMOUNT}{}", after.unwrap_or_default()));
        at += 1 + usize::from(next.is_some());
        struck = true;
    }
    struck.then(|| kept.join(" "))
}

/// True for a number and a currency, in either order. A word in small letters that is a currency too (`all`, `top`) is one beside
/// cents alone.
fn is_amount(one: &str, other: &str) -> bool {
    let (one, other) = (bare(one), bare(other));
    let is_beside = |number: &str, code: &str| {
        let in_cents = number.contains(['.', ',']);
        is_number(number) && is_currency(code, in_cents)
    };
    is_beside(one, other) || is_beside(other, one)
}

/// `EUR12.50`, `12.50EUR`, `12.50EUR/m`.
fn is_whole_amount(word: &str) -> bool {
    let word = word.split('/').next().unwrap_or_default();
    let number = |part: Option<&str>| part.is_some_and(is_number);
    let code = |part: Option<&str>| part.is_some_and(|code| is_currency(code, true));
    let after = word.len().saturating_sub(CODE);
    (code(word.get(..CODE)) && number(word.get(CODE..)))
        || (number(word.get(..after)) && code(word.get(after..)))
}

fn bare(word: &str) -> &str {
    word.trim_matches(|letter: char| !letter.is_alphanumeric())
}

/// `12.00`, `12.00/m`.
fn is_number(word: &str) -> bool {
    let figure = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',' | '\'' | '_');
    let number = word.split('/').next().unwrap_or_default();
    number.starts_with(|letter: char| letter.is_ascii_digit()) && number.chars().all(figure)
}

/// `EUR`, `EUR/m`; in small letters too where those are enough.
fn is_currency(word: &str, small_letters: bool) -> bool {
    let code = word.split('/').next().unwrap_or_default();
    let is_code = code.len() == CODE && code.bytes().all(|byte| byte.is_ascii_alphabetic());
    let is_large = code.bytes().all(|byte| byte.is_ascii_uppercase());
    is_code && (is_large || small_letters) && code.to_uppercase().parse::<Currency>().is_ok()
}

/// Lists the fields of an answer that are emptied for readers who may not see prices, or pay rates; `parts` conceal for
/// themselves.
macro_rules! conceals {
    ($answer:ty $(, $sees:ident { $($($field:ident).+),+ })*) => {
        impl $crate::access::Conceal for $answer {
            fn conceal(&mut self, sees: $crate::access::Sees) {
                #[allow(unused_imports, reason = "an answer may have no parts")]
                use $crate::access::Conceal as _;
                $($(conceals!(@ $sees, sees, self.$($field).+);)+)*
            }
        }
    };
    (@ parts, $reader:ident, $part:expr) => { $part.conceal($reader); };
    (@ $sees:ident, $reader:ident, $field:expr) => {
        if !$reader.$sees {
            $field = Default::default();
        }
    };
}
pub(crate) use conceals;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_amount_goes_whichever_way_it_is_written() {
        for (text, kept) in [
            ("Charged 12.00 GBP on P1.", "Charged an amount on P1."),
            (
                "Took back B7: Credited 12.00 GBP.",
                "Took back B7: Credited an amount.",
            ),
            ("for EUR 7351.97, in cash", "for an amount, in cash"),
            (
                "the rest of its cost (-3 EUR)",
                "the rest of its cost (an amount)",
            ),
            ("12.00 EUR/m", "an amount/m"),
            ("at EUR 12.00/m.", "at an amount."),
            ("it cost EUR12.50, or", "it cost an amount, or"),
            ("(12.50EUR)", "(an amount)"),
            ("paid 12.50 eur for it", "paid an amount for it"),
            ("line 1: 12.00 EUR\nthe lot", "line 1: an amount\nthe lot"),
            ("12.00\nEUR 3\n", "12.00\nan amount\n"),
        ] {
            assert_eq!(without_amounts(text).as_deref(), Some(kept), "{text}");
        }
        for text in [
            "L1.1 put in 2 ZAP",
            "2.60 m of L1.1",
            "the EUR rate",
            "B7 EUR",
            "2 all over",
            "L1.1 and M12",
        ] {
            assert_eq!(without_amounts(text), None, "{text}");
        }
    }

    #[test]
    fn a_viewer_never_writes_and_an_owner_always_may() {
        let all = [
            Access::Read,
            Access::Prices,
            Access::SeePayRates,
            Access::Daily,
            Access::WriteOffs,
            Access::Trade,
            Access::PayRates,
            Access::Settings,
            Access::Books,
            Access::CloseBooks,
            Access::SeePeople,
            Access::People,
        ];
        for access in all {
            assert!(access.allows(Role::Owner, &[]), "{access:?}");
            assert_eq!(
                access.allows(Role::Viewer, Grant::ALL),
                access.reads(),
                "{access:?}"
            );
            assert!(access.allows(Role::Maker, Grant::ALL), "{access:?}");
            assert_eq!(
                access.allows(Role::Apprentice, Grant::ALL),
                matches!(access, Access::Read | Access::Daily),
                "{access:?}"
            );
        }
        assert!(Access::Daily.allows(Role::Maker, &[]) && Access::Prices.allows(Role::Maker, &[]));
        assert!(
            !Access::SeePayRates.allows(Role::Maker, &[])
                && !Access::Prices.allows(Role::Viewer, &[])
        );
    }
}
