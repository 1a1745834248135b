//! A charge as `key=value` pairs, and `ellwand buy charge`.

use super::screen;
use crate::{
    command_error::CommandError,
    context::Context,
    pairs::{Pairs, PairsError},
    typed,
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use clap::Arg;
use ellwand_contract::purchases::{AddCharge, ChargeInput, Purchase, ShareKey};
use ellwand_domain::{code::PurchaseCode, purchase::ChargeKind};
use uuid::Uuid;

const KINDS: &[(&str, ChargeKind)] = &[
    ("freight", ChargeKind::Freight),
    ("duty", ChargeKind::Duty),
    ("tax", ChargeKind::Tax),
    ("discount", ChargeKind::Discount),
    ("other", ChargeKind::Other),
];
/// What a price that was logged later is called among the charges.
const PRICE: &str = "price";
const SHARES: &[(&str, ShareKey)] = &[
    ("value", ShareKey::Value),
    ("length", ShareKey::Length),
    ("mass", ShareKey::Mass),
    ("count", ShareKey::Count),
    ("taxed", ShareKey::Taxed),
];
const KEYS: [&str; 9] = [
    "freight", "duty", "tax", "discount", "other", "by", "on", "lines", "reclaim",
];

/// Label of a charge's kind.
pub(super) fn kind_word(kind: ChargeKind) -> &'static str {
    KINDS
        .iter()
        .find(|(_, other)| *other == kind)
        .map_or(PRICE, |(word, _)| word)
}

/// The word of a share key.
pub(super) fn share_word(share: ShareKey) -> &'static str {
    SHARES
        .iter()
        .find(|(_, other)| *other == share)
        .map_or("value", |(word, _)| word)
}

/// Reads `freight=12.00,by=value`, `tax=26.40,by=taxed,on=1+2`, `duty=10.56,lines=1`.
///
/// # Errors
/// No or several kinds, an unknown key, numbers that are none, `on` without `by=taxed`.
pub(super) fn parse(text: &str) -> Result<ChargeInput, PairsError> {
    let pairs = Pairs::parse(text, &KEYS.map(str::to_owned)).sound();
    let mut pairs = pairs.map_err(|error| error.of_flags(KEYS.map(flag).to_vec()))?;
    let taken: Vec<_> = KINDS
        .iter()
        .filter_map(|(word, kind)| pairs.take(word).map(|amount| (*kind, amount)))
        .collect();
    let [(kind, amount)] = taken.as_slice() else {
        return Err(PairsError::new(format!(
            "\"{text}\" needs exactly one of freight, duty, tax, discount, other, for example freight=12.00"
        )));
    };
    if amount.trim_end().ends_with('%') {
        return Err(PairsError::new(format!(
            "{text}: a charge is an amount as it stands on the invoice, such as 26.40, not a share"
        )));
    }
    let by = pairs.take("by");
    let share = match by.as_deref() {
        None => ShareKey::Value,
        Some(word) => SHARES
            .iter()
            .find(|(other, _)| *other == word)
            .map(|(_, share)| *share)
            .ok_or_else(|| {
                PairsError::new(format!(
                    "by: \"{word}\" is not a key; choose value, length, mass, count or taxed"
                ))
            })?,
    };
    let on = numbers(&mut pairs, "on")?;
    if !on.is_empty() && share != ShareKey::Taxed {
        return Err(PairsError::new(
            "on: goes only with by=taxed; it names the charges that are taxed too",
        ));
    }
    let reclaim = match pairs.take("reclaim").as_deref() {
        None => None,
        Some(_) if *kind != ChargeKind::Tax => {
            return Err(PairsError::new("reclaim: only a tax can be reclaimed"));
        }
        Some("yes") => Some(true),
        Some("no") => Some(false),
        Some(word) => {
            return Err(PairsError::new(format!(
                "reclaim: \"{word}\" is neither yes nor no"
            )));
        }
    };
    let lines = numbers(&mut pairs, "lines")?;
    Ok(ChargeInput {
        kind: *kind,
        amount: amount.clone(),
        share,
        on,
        lines,
        reclaim,
    })
}

/// A key as a flag with the words that it takes, where they are few.
fn flag(key: &'static str) -> Arg {
    let flag = Arg::new(key).long(key);
    match key {
        "by" => flag.value_parser(SHARES.iter().map(|(word, _)| *word).collect::<Vec<_>>()),
        "reclaim" => flag.value_parser(["yes", "no"]),
        _ => flag,
    }
}

/// Reads `1+3` or `1,3`.
fn numbers(pairs: &mut Pairs, key: &str) -> Result<Vec<usize>, PairsError> {
    let Some(text) = pairs.take(key) else {
        return Ok(Vec::new());
    };
    text.split(['+', ',', ' '])
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok().filter(|number| *number > 0))
        .collect::<Option<_>>()
        .ok_or_else(|| {
            PairsError::new(format!(
                "{key}: \"{text}\" are not numbers from 1, for example {key}=1+2"
            ))
        })
}

/// Add a late charge or a credit to a purchase
///
/// It is shared by its key over the purchase's lines: the share of pieces still here and of unfinished garments adds to
/// their cost, the rest is an adjustment. A credit is a negative amount: other=-5.00. A tax that is reclaimed, by reclaim=yes
/// or by the setting on the day of the purchase, is recorded and costs nothing.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand buy charge P8 'duty=10.56,lines=1'
  ellwand buy charge P8 'freight=4.00,by=mass' --currency GBP --rate 1.1650 \\\n    --date 2026-11-02")]
pub struct Args {
    /// Purchase code, such as P8
    #[arg(value_name = "CODE")]
    purchase: PurchaseCode,
    /// The charge, as key=value pairs: see `ellwand buy --help`
    #[arg(value_name = "PAIRS", value_parser = parse)]
    charge: ChargeInput,
    /// Currency of the charge: GBP [default: the workshop's]
    #[arg(long, value_name = "CODE", value_parser = typed::currency)]
    currency: Option<String>,
    /// Rate of the day, for another currency
    #[arg(long, value_name = "RATE", value_parser = typed::rate)]
    rate: Option<String>,
    /// Business date: 2026-11-02 [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Confirm the first rate of a currency, or one more than 5 times off the last
    #[arg(long)]
    really: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let act = AddCharge {
            id: Uuid::nil(),
            purchase: self.purchase,
            charge: self.charge,
            currency: self.currency,
            rate: self.rate,
            date: self.date,
            really: self.really,
        };
        act.run(context)
    }
}

impl Verb for AddCharge {
    fn show(&self, answer: Purchase, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        screen::purchase(context.ui, shown, &answer);
        let (code, total) = (answer.purchase, shown.money(answer.home_total));
        context.ui.status(format!(
            "Added the charge to {code}, which now costs {total}."
        ));
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn message(text: &str) -> String {
        parse(text).expect_err("refused").to_string()
    }

    #[test]
    fn a_charge_is_read_with_its_key_and_its_lines() {
        let charge = parse("tax=26.40,by=taxed,on=1+2").expect("a tax");
        assert_eq!(
            (charge.kind, charge.share, charge.on),
            (ChargeKind::Tax, ShareKey::Taxed, vec![1, 2])
        );
        assert_eq!(charge.reclaim, None, "as the setting says");
        assert_eq!(
            parse("tax=1,reclaim=yes").expect("a tax").reclaim,
            Some(true)
        );
        let charge = parse("duty=10.56,lines=1,3").expect("a duty");
        assert_eq!(
            (charge.amount.as_str(), charge.share, charge.lines),
            ("10.56", ShareKey::Value, vec![1, 3])
        );
    }

    #[test]
    fn no_kind_two_kinds_a_wrong_key_and_line_zero_are_refused() {
        assert!(message("by=value").contains("needs exactly one of freight"));
        assert!(message("freight=1,duty=2").contains("needs exactly one of freight"));
        assert!(message("freight=1,by=weight").starts_with("by: \"weight\" is not a key"));
        assert!(message("freight=1,lines=0").starts_with("lines: \"0\" are not numbers from 1"));
        assert!(message("freight=1,on=1").contains("only with by=taxed"));
        assert!(message("freight=1,reclaim=yes").contains("only a tax"));
        assert!(message("tax=1,reclaim=maybe").contains("neither yes nor no"));
    }
}
