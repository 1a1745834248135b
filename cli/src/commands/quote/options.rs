//! Options beside the plan, on the command line and in a file.

use crate::{
    command_error::CommandError,
    commands::garment::{
        changes,
        parts::{self, PartOf},
        plan_file,
    },
    file::TextFile,
    pairs::{self, PairsError, changed_fields},
    slips::refusal,
};
use ellwand_contract::{
    garments::{Change, Changeable, NeedInput, OperationInput, PartChange},
    options::OptionInput,
    quotations::PriceInput,
    text::spelled,
};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::path::PathBuf;

/// A value of an option, with its name.
#[derive(Debug, Clone, Serialize, clap::Args)]
struct OptionValue<T: clap::Args> {
    #[arg(long, value_name = "hand hem")]
    option: String,
    #[command(flatten)]
    #[serde(flatten)]
    value: T,
}

/// What differs in an option, with its name.
#[derive(Debug, Clone)]
struct OptionChange<T> {
    option: String,
    change: Change<T>,
}

/// What differs of a part in an option: the names of the option and of the need.
#[derive(Debug, Clone)]
struct OptionPart {
    option: String,
    need: String,
    part: PartChange,
}

/// Help on options.
pub(super) const HELP: &str = "\
Options beside the plan, up to three, each with what differs from it:
  --option 'hand hem' --option-without 'hand hem=machine hem' \\
    --option-operation 'option=hand hem,name=hand hem,kind=hand,planned=2h,detail=hem'
  --option-need, --option-part and --option-operation take option=NAME and the keys of `garment
  plan`; of what the plan has only what differs is given. --option-without leaves out a detail, a
  need's role or an operation. --option-price 'option=hand hem,margin=40%' prices it in
  its own way; its keys are those of the flags above (discount=10% / 5%).
A file for --options holds the same in TOML: plan_is, then [[option]] with name, without = [\"…\"],
  price = { margin = \"40%\" }, [[option.need]] and [[option.operation]] as in a plan's file.";

// Options beside the plan. A doc comment would become the help of the command.
#[derive(Debug, clap::Args)]
pub(super) struct Options {
    /// Option beside the plan, by the name that the customer sees; may be repeated
    #[arg(long, value_name = "NAME")]
    option: Vec<String>,
    /// What differs of a need in an option, or a new one; may be repeated
    #[arg(long, value_name = "PAIRS", value_parser = option_change::<NeedInput>)]
    option_need: Vec<OptionChange<NeedInput>>,
    /// What differs of a part of a need in an option, or a new one; may be repeated
    #[arg(long, value_name = "PAIRS", value_parser = option_part)]
    option_part: Vec<OptionPart>,
    /// What differs of an operation in an option, or a new one; may be repeated
    #[arg(long, value_name = "PAIRS", value_parser = option_change::<OperationInput>)]
    option_operation: Vec<OptionChange<OperationInput>>,
    /// What an option leaves out: a detail, a need's role or an operation; may be repeated
    #[arg(long, value_name = "OPTION=WHAT")]
    option_without: Vec<String>,
    /// Pricing of an option of its own: 'option=hand hem,margin=40%'
    #[arg(long, value_name = "PAIRS", value_parser = option_price)]
    option_price: Vec<OptionValue<PriceInput>>,
    /// Read options from a TOML file; the flags add to them
    #[arg(long, value_name = "FILE")]
    options: Option<PathBuf>,
    /// Name of the plan itself beside the options [default: as planned]
    #[arg(long, value_name = "NAME")]
    plan_is: Option<String>,
}

/// A file of options.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct OptionsFile {
    plan_is: Option<String>,
    option: Vec<OptionInput>,
}

/// Options as parsed, and the file that some of them come from.
pub(super) struct ParsedOptions {
    pub(super) plan_is: Option<String>,
    pub(super) options: Vec<OptionInput>,
    file: Option<TextFile>,
}

impl ParsedOptions {
    /// A refusal, with its line if it names a field of the file.
    pub(super) fn locate(&self, error: CommandError) -> CommandError {
        match &self.file {
            Some(file) => plan_file::locate(file, error),
            None => error,
        }
    }
}

/// Reads `option=linen,role=shell,material=M9`.
fn option_change<T>(text: &str) -> Result<OptionChange<T>, PairsError>
where
    T: Changeable + clap::Args,
{
    let mut fields = changed_fields::<OptionValue<T>>(text, &["option", T::NAME])?;
    Ok(OptionChange {
        option: taken(&mut fields, "option"),
        change: Change::new(fields),
    })
}

/// Reads `option=linen,need=collar canvas,name=collar,length=47cm`.
fn option_part(text: &str) -> Result<OptionPart, PairsError> {
    let mut fields = changed_fields::<OptionValue<PartOf>>(text, &["option", "need", "name"])?;
    Ok(OptionPart {
        option: taken(&mut fields, "option"),
        need: taken(&mut fields, "need"),
        part: PartChange::new(fields),
    })
}

fn taken(fields: &mut Map<String, Value>, name: &str) -> String {
    match fields.remove(name) {
        Some(Value::String(text)) => text,
        _ => String::new(),
    }
}

/// Reads `option=hand hem,margin=40%,discount=10% / 5%`.
fn option_price(text: &str) -> Result<OptionValue<PriceInput>, PairsError> {
    let price: OptionValue<PriceInput> = pairs::parse_args(text)?;
    if price.value == PriceInput::default() {
        return Err(PairsError::new(format!(
            "\"{text}\" has no price, for example margin=40%"
        )));
    }
    Ok(price)
}

impl Options {
    /// Collects the flags, option by option.
    pub(super) fn parse(self) -> Result<ParsedOptions, CommandError> {
        let (file, text) = match &self.options {
            Some(path) => {
                let text = TextFile::read(path)?;
                (file_of(&text)?, Some(text))
            }
            None => (OptionsFile::default(), None),
        };
        let mut parsed = ParsedOptions {
            plan_is: self.plan_is.or(file.plan_is),
            options: file.option,
            file: text,
        };
        let named = self.option.into_iter().map(|name| OptionInput {
            name,
            ..OptionInput::default()
        });
        parsed.options.extend(named);
        for OptionChange { option, change } in self.option_need {
            option_by_name(&mut parsed.options, &option, "--option-need")?
                .needs
                .push(change);
        }
        for OptionPart { option, need, part } in self.option_part {
            let found = option_by_name(&mut parsed.options, &option, "--option-part")?;
            parts::add_to(&mut found.needs, &need, part);
        }
        for OptionChange { option, change } in self.option_operation {
            option_by_name(&mut parsed.options, &option, "--option-operation")?
                .operations
                .push(change);
        }
        for text in &self.option_without {
            let (option, what) = text.split_once('=').ok_or_else(|| {
                CommandError::usage_hint(
                    format!("\"{text}\" names no option"),
                    "write it as in --option-without 'hand hem=machine hem'",
                )
            })?;
            option_by_name(&mut parsed.options, option, "--option-without")?
                .without
                .push(what.trim().to_owned());
        }
        for OptionValue {
            option,
            value: price,
        } in self.option_price
        {
            let found = option_by_name(&mut parsed.options, &option, "--option-price")?;
            if found.price.replace(price).is_some() {
                return Err(CommandError::usage(format!(
                    "the price of {option} is given twice"
                )));
            }
        }
        Ok(parsed)
    }
}

fn file_of(text: &TextFile) -> Result<OptionsFile, CommandError> {
    let file: OptionsFile = text.toml()?;
    let mut slips = Vec::new();
    for (index, option) in file.option.iter().enumerate() {
        let place = format!("option[{index}].");
        slips.extend(changes::check(
            text,
            &place,
            &option.needs,
            &option.operations,
        ));
    }
    match slips.is_empty() {
        true => Ok(file),
        false => Err(refusal(
            &slips,
            "nothing was quoted; correct these lines, the keys are those of garment plan --file",
        )),
    }
}

/// The option of a name, whatever its capitals.
fn option_by_name<'o>(
    options: &'o mut [OptionInput],
    name: &str,
    flag: &str,
) -> Result<&'o mut OptionInput, CommandError> {
    let spelled = |text: &str| spelled(text).to_lowercase();
    let found = options
        .iter_mut()
        .find(|option| spelled(&option.name) == spelled(name));
    found.ok_or_else(|| {
        let name = name.trim();
        CommandError::usage_hint(
            format!("{flag} is about {name}, but there is no such option"),
            format!("add --option '{name}' too"),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn options(option: &[&str]) -> Options {
        Options {
            option: option.iter().map(|name| (*name).to_owned()).collect(),
            option_need: Vec::new(),
            option_part: Vec::new(),
            option_operation: Vec::new(),
            option_without: Vec::new(),
            option_price: Vec::new(),
            options: None,
            plan_is: None,
        }
    }

    #[test]
    fn what_is_said_of_an_option_comes_together_under_its_name() {
        let parsed = Options {
            option_operation: vec![
                option_change("option=Hand hem,name=hem,kind=hand,planned=2h,detail=hem")
                    .expect("read"),
            ],
            option_without: vec!["hand hem = machine hem".to_owned()],
            option_price: vec![
                option_price("option=hand hem,margin=40%,discount=10% / 5%").expect("read"),
            ],
            ..options(&["hand hem", "plain"])
        };
        let parsed = parsed.parse().expect("options").options;
        let hem = &parsed[0];
        assert_eq!(
            (parsed.len(), hem.name.as_str(), hem.operations.len()),
            (2, "hand hem", 1)
        );
        assert_eq!(hem.operations[0].name(), "hem");
        let whole = hem.operations[0].whole().expect("whole");
        assert_eq!(whole.detail.as_deref(), Some("hem"));
        assert_eq!(hem.without, ["machine hem"]);
        let price = hem.price.as_ref().expect("a price");
        assert_eq!(
            (price.margin.as_deref(), price.discount.len()),
            (Some("40%"), 2)
        );
    }

    #[test]
    fn a_flag_about_an_option_that_is_not_there_is_refused() {
        for text in ["hand him=hem", "hem"] {
            let parsed = Options {
                option_without: vec![text.to_owned()],
                ..options(&["hand hem"])
            };
            assert!(parsed.parse().is_err(), "{text}");
        }
        assert!(option_change::<NeedInput>("role=shell,kind=cloth").is_err());
        assert!(option_price("option=hand hem").is_err());
        assert!(option_price("option=hand hem,colour=blue").is_err());
    }

    #[test]
    fn a_file_holds_the_same_and_names_its_lines() {
        let file = |text: &str| {
            let text = TextFile {
                name: "options.toml".to_owned(),
                text: text.to_owned(),
            };
            file_of(&text).map_err(|error| error.message())
        };
        let read = file(
            "plan_is = \"machine hem\"\n\n[[option]]\nname = \"hand hem\"\nwithout = [\"machine hem\"]\n\n\
             [[option.operation]]\nname = \"hem\"\nkind = \"hand\"\nplanned = \"2h\"\n",
        )
        .expect("options");
        assert_eq!(
            (read.plan_is.as_deref(), read.option[0].operations.len()),
            (Some("machine hem"), 1)
        );
        let fault = file(
            "[[option]]\nname = \"a\"\n\n[[option.need]]\nrole = \"shell\"\nlength = \"2.60\"\n",
        );
        assert!(
            fault
                .expect_err("no unit")
                .starts_with("options.toml, line 6: length: ")
        );
    }
}
