//! The questions of `ellwand buy`. Answers become the flags that would have said the same, so that they can be
//! repeated and learned from.

use super::{PurchaseFlags, charge, line};
use crate::{
    command_error::CommandError,
    context::Context,
    sheet,
    typed::{any_amount, checked, date, length_or_mass},
    ui::prompt,
};
use ellwand_domain::{
    quantity::{Currency, Micrometres, MilligramsPerM2, Rate},
    setting::Kind,
};

/// Asks for what the flags do not say.
///
/// # Errors
/// Exit 2 without a terminal, 130 when interrupted.
pub(super) fn ask(
    flags: &mut PurchaseFlags,
    context: &mut Context<'_, '_>,
) -> Result<(), CommandError> {
    if !context.may_ask() {
        return Err(CommandError::usage_hint(
            "a purchase needs at least one line",
            "say it with --line 'material=navy wool,kind=cloth,paid=4.00m,price=88.00' or --file purchase.toml",
        ));
    }
    let mut words = Vec::new();
    let mut add = |flag: &str, value: &str| words.extend([flag.to_owned(), value.to_owned()]);
    let free = |_: &str| Ok::<(), String>(());
    if flags.supplier.is_none() {
        flags.supplier = prompt::optional(
            "Supplier",
            "a name, or a code such as S2; empty for a find or a gift",
            free,
        )?;
        flags
            .supplier
            .iter()
            .for_each(|name| add("--supplier", name));
    }
    if flags.date.is_none() {
        let day = prompt::optional("Day of receipt", "2026-10-03; empty for today", |text| {
            date(text).map(|_| ())
        })?;
        day.iter().for_each(|day| add("--date", day));
        flags.date = day.and_then(|day| date(&day).ok());
    }
    if flags.currency.is_none() {
        let check = |text: &str| checked::<Currency>(text).map(|_| ());
        flags.currency = prompt::optional(
            "Currency of the invoice",
            "EUR, GBP …; empty for the workshop's own",
            check,
        )?;
        flags
            .currency
            .iter()
            .for_each(|code| add("--currency", code));
        if flags.currency.is_some() && flags.rate.is_none() && flags.home_amount.is_none() {
            let check = |text: &str| checked::<Rate>(text).map(|_| ());
            let help = "workshop currency for one of the invoice's: 1.1700; empty if it is the workshop's own";
            flags.rate = prompt::optional("The day's rate", help, check)?;
            flags.rate.iter().for_each(|rate| add("--rate", rate));
        }
    }
    loop {
        let text = one_line()?;
        flags
            .lines
            .push(line::parse(&text).map_err(|error| CommandError::usage(error.to_string()))?);
        add("--line", &text);
        if !prompt::confirm("Another line?")? {
            break;
        }
    }
    if flags.charges.is_empty()
        && prompt::confirm("Freight, duty, tax or a discount on the invoice?")?
    {
        loop {
            let check = |text: &str| charge::parse(text).map(|_| ());
            let text = prompt::text(
                "Charge",
                "freight=12.00, or tax=26.40,by=taxed,on=1, or duty=10.56,lines=1",
                check,
            )?;
            flags.charges.push(
                charge::parse(&text).map_err(|error| CommandError::usage(error.to_string()))?,
            );
            add("--charge", &text);
            if !prompt::confirm("Another charge?")? {
                break;
            }
        }
    }
    context.add_to_command(words);
    let command = context.command();
    context
        .ui
        .hint(format!("the same without questions: {command}"));
    if prompt::confirm("Book it?")? {
        Ok(())
    } else {
        Err(CommandError::Declined)
    }
}

/// A line as the value of `--line`.
fn one_line() -> Result<String, CommandError> {
    let needed = |text: &str| {
        if text.trim().is_empty() {
            Err("it needs a name".to_owned())
        } else {
            Ok(())
        }
    };
    let name = prompt::text(
        "Material",
        "a name, or the code of a known one such as M3",
        needed,
    )?;
    let known = name.parse::<ellwand_domain::code::MaterialCode>().is_ok();
    let mut pairs = vec![pair("material", &name)];
    let mut kind = None;
    if !known {
        let chosen = prompt::choose("Kind", Kind::ALL.to_vec())?;
        pairs.push(pair("kind", chosen.word()));
        kind = Some(chosen);
    }
    let rectangle = kind.is_some_and(Kind::is_rectangle);
    let amount = move |text: &str| {
        if rectangle {
            length_or_mass(text)
        } else {
            any_amount(text)
        }
        .map(|_| ())
    };
    let paid = prompt::optional(
        "Paid for",
        "4.00m, 3 yd, 1.24kg, 12 pcs; empty for a lump sum",
        amount,
    )?;
    pairs.extend(paid.map(|paid| pair("paid", &paid)));
    let priced = |text: &str| {
        if text.trim().is_empty() {
            Err("a gift costs 0".to_owned())
        } else {
            Ok(())
        }
    };
    pairs.push(pair(
        "price",
        &prompt::text(
            "Price",
            "88.00 for all of it, or 12.00/yd; 0 for a gift",
            priced,
        )?,
    ));
    if rectangle {
        let width = |text: &str| checked::<Micrometres>(text).map(|_| ());
        let mass = |text: &str| checked::<MilligramsPerM2>(text).map(|_| ());
        let fibres = |text: &str| sheet::fibres(text).map(|_| ());
        let shrinkage = |text: &str| sheet::shrinkage(text).map(|_| ());
        let answers = [
            (
                "full-width",
                prompt::optional(
                    "Full width",
                    "selvedge to selvedge: 150cm; empty if not known",
                    width,
                )?,
            ),
            (
                "selvedges",
                prompt::optional("Selvedges", "both together: 1cm; empty if not known", width)?,
            ),
            (
                "mass",
                prompt::optional("Mass per area", "270gsm, 8oz/yd2; empty if not known", mass)?,
            ),
            (
                "fibres",
                prompt::optional(
                    "Fibres",
                    "linen 55% + cotton 45%; empty if not known",
                    fibres,
                )?,
            ),
            (
                "shrinkage",
                prompt::optional(
                    "Shrinkage stated by the seller",
                    "5%/2%; empty if not known",
                    shrinkage,
                )?,
            ),
        ];
        pairs.extend(
            answers
                .into_iter()
                .filter_map(|(key, answer)| answer.map(|answer| pair(key, &answer))),
        );
    }
    let place = prompt::optional(
        "Place",
        "where it lies: A2; empty if it does not matter",
        |_| Ok::<(), String>(()),
    )?;
    pairs.extend(place.map(|place| pair("place", &place)));
    Ok(pairs.join(","))
}

fn pair(key: &str, value: &str) -> String {
    if value.contains(',') && value.contains('=') {
        format!("{key}=\"{value}\"")
    } else {
        format!("{key}={value}")
    }
}
