//! The questions of `ellwand buy`. Answers become the equivalent flags, so that they can be repeated and learned from.

use super::{PurchaseFlags, charge, check::check_line, line};
use crate::{
    command_error::CommandError,
    context::Context,
    pairs,
    typed::{any_amount, currency, date, length_or_mass, rate},
    ui::prompt,
};
use clap::{Args as _, Command, FromArgMatches as _};
use ellwand_contract::{
    purchases::{Buy, LineInput},
    sheets::{ListMaterials, Material},
};
use ellwand_domain::code::MaterialCode;

/// Questions about cloth and interlining: key, question, example.
const CLOTH: [(&str, &str, &str); 4] = [
    ("selvedges", "Selvedges", "both together: 1cm"),
    ("mass", "Mass per area", "270gsm, 8oz/yd2"),
    ("fibres", "Fibres", "linen 55% + cotton 45%"),
    ("shrinkage", "Shrinkage stated by the seller", "5%/2%"),
];

/// A flag with its value.
type Answer = (&'static str, String);

/// Asks for what the flags leave out.
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
            "add --line 'material=navy wool,kind=cloth,paid=4.00m,price=88.00', or --file purchase.toml",
        ));
    }
    context.begin::<Buy>()?;
    let known = context.call(&ListMaterials { kind: None })?.materials;
    let mut answers = head(flags)?;
    while answers.iter().all(|(flag, _)| *flag != "--line") || prompt::confirm("Another line?")? {
        answers.push(("--line", one_line(&known)?));
    }
    if flags.charges.is_empty() {
        let mut question = "Freight, duty, tax or a discount on the invoice?";
        while prompt::confirm(question)? {
            let example = "freight=12.00, or tax=26.40,by=taxed,on=1, or duty=10.56,lines=1";
            let text = prompt::text("Charge", example, |text| charge::parse(text).map(drop))?;
            answers.push(("--charge", text));
            question = "Another charge?";
        }
    }
    let arguments = answers
        .iter()
        .map(|(flag, answer)| format!("{flag}={answer}"));
    PurchaseFlags::augment_args_for_update(Command::new("buy").no_binary_name(true))
        .try_get_matches_from(arguments)
        .and_then(|found| flags.update_from_arg_matches(&found))
        .map_err(|error| CommandError::usage(error.to_string()))?;
    let words = answers
        .into_iter()
        .flat_map(|(flag, answer)| [flag.to_owned(), answer]);
    context.add_to_command(words);
    let command = context.command();
    context
        .ui
        .hint(format!("the same without questions: {command}"));
    Ok(())
}

/// From whom, when, and in which currency.
fn head(flags: &PurchaseFlags) -> Result<Vec<Answer>, CommandError> {
    let mut answers = Vec::new();
    let mut add =
        |flag, answer: Option<String>| answers.extend(answer.map(|answer| (flag, answer)));
    if flags.supplier.is_none() {
        let help = "a name, or a code such as S2; empty for a find or a gift";
        add("--supplier", prompt::optional("Supplier", help, anything)?);
    }
    if flags.date.is_none() {
        let help = "2026-10-03; empty for today";
        let day = prompt::optional("Day of receipt", help, |text| date(text).map(drop))?;
        add("--date", day);
    }
    if flags.currency.is_none() {
        let help = "EUR, GBP …; empty for the workshop's own";
        let check = |text: &str| currency(text).map(drop);
        let code = prompt::optional("Currency of the invoice", help, check)?;
        if code.is_some() && flags.rate.is_none() && flags.home_amount.is_none() {
            let help = "workshop currency for one of the invoice's: 1.1700; empty if it is the workshop's own";
            let check = |text: &str| rate(text).map(drop);
            add("--rate", prompt::optional("The day's rate", help, check)?);
        }
        add("--currency", code);
    }
    Ok(answers)
}

fn anything(_: &str) -> Result<(), String> {
    Ok(())
}

/// A line as the value of `--line`.
fn one_line(known: &[Material]) -> Result<String, CommandError> {
    let filled = |fault: &'static str| {
        move |text: &str| (!text.trim().is_empty()).then_some(()).ok_or(fault)
    };
    let help = "a name, or the code of a known one such as M3";
    let name = prompt::text("Material", help, filled("it needs a name"))?;
    let mut answers = vec![("material", name)];
    // What the book knows of a material it takes from there.
    let name = answers[0].1.as_str();
    let of_name = |known: &&Material| known.name.eq_ignore_ascii_case(name);
    let is_new =
        name.parse::<MaterialCode>().is_err() && !known.iter().any(|known| of_name(&known));
    let mut rectangle = false;
    if is_new {
        let kind = prompt::kind("Kind")?;
        rectangle = kind.is_rectangle();
        answers.push(("kind", kind.word().to_owned()));
    }
    let amount = match rectangle {
        true => length_or_mass,
        false => any_amount,
    };
    let help = "4.00m, 3 yd, 1.24kg, 12 pcs; empty for a lump sum";
    let paid = prompt::optional("Paid for", help, move |text: &str| amount(text).map(drop))?;
    answers.extend(paid.map(|paid| ("paid", paid)));
    let help = "88.00 for all of it, or 12.00/yd; 0 for a gift; unknown";
    answers.push(("price", prompt::text("Price", help, price)?));
    if rectangle {
        let help = "selvedge to selvedge: 150cm; no length is worked out without it";
        let check = |text: &str| pairs::check_one::<LineInput>("full-width", text);
        answers.push(("full-width", prompt::text("Full width", help, check)?));
    }
    for (key, question, example) in CLOTH.iter().filter(|_| rectangle) {
        let help = format!("{example}; empty if not known");
        let check = |text: &str| pairs::check_one::<LineInput>(key, text);
        let answer = prompt::optional(question, &help, check)?;
        answers.extend(answer.map(|answer| (*key, answer)));
    }
    let help = "where you keep it: A2; empty if it does not matter";
    let place = prompt::optional("Place", help, anything)?;
    answers.extend(place.map(|place| ("place", place)));
    Ok(prompt::pairs(&answers))
}

/// A price as a line reads it.
fn price(text: &str) -> Result<(), String> {
    let pairs = format!("material=M1,price=\"{}\"", text.trim());
    let line = line::parse(&pairs).map_err(|error| error.to_string())?;
    let fault = check_line(&line, None).0.into_iter().next();
    fault.map_or(Ok(()), |fault| Err(fault.message))
}
