//! How a price is made, on the command line.

use crate::command_error::CommandError;
use chrono::NaiveDate;
use ellwand_contract::quotations::{PriceInput, StageInput};
use ellwand_domain::setting::MaterialsAt;

/// Ways to make a price; one of markup, margin, hourly and price.
#[derive(Debug, clap::Args)]
pub(super) struct Price {
    /// Share of the cost that is added: 35%
    #[arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)]
    markup: Option<String>,
    /// Share of the price that is left over the cost: 35%
    #[arg(long, value_name = "SHARE", group = "rule", allow_hyphen_values = true)]
    margin: Option<String>,
    /// What every own hour shall earn: 30.00
    #[arg(
        long,
        value_name = "AMOUNT",
        group = "rule",
        allow_hyphen_values = true
    )]
    hourly: Option<String>,
    /// A price that is given, with its tax where prices are shown with tax; what the hours earn is worked backwards
    #[arg(
        long,
        value_name = "AMOUNT",
        group = "rule",
        allow_hyphen_values = true
    )]
    price: Option<String>,
    /// Share that is added to materials, apart from work
    #[arg(long, value_name = "SHARE")]
    material_markup: Option<String>,
    /// A discount; several are taken one after another
    #[arg(long, value_name = "SHARE")]
    discount: Vec<String>,
    /// Round what the customer sees up to the next: 5, 10, x.95
    #[arg(long, value_name = "STEP")]
    round_up: Option<String>,
    /// Price materials at what their lot cost, or at what replacing them costs: cost, replacement
    #[arg(long, value_name = "WHERE")]
    materials_at: Option<MaterialsAt>,
    /// A typed price for all the material of a need, for the whole batch: shell=40.00
    #[arg(long, value_name = "ROLE=AMOUNT")]
    material_price: Vec<String>,
    /// Charge for handling the customer's own material, with its tax where prices are shown with tax
    #[arg(long, value_name = "AMOUNT")]
    handling: Option<String>,
    /// Name of the tax rate; default the workshop's first
    #[arg(long, value_name = "NAME")]
    tax: Option<String>,
    /// Another tax rate for materials, labour or handling: materials=reduced
    #[arg(long, value_name = "PART=NAME")]
    tax_on: Vec<String>,
}

impl Price {
    pub(super) fn input(self) -> PriceInput {
        PriceInput {
            markup: self.markup,
            margin: self.margin,
            hourly: self.hourly,
            price: self.price,
            material_markup: self.material_markup,
            discount: self.discount,
            round_up: self.round_up,
            materials_at: self.materials_at,
            material_price: self.material_price,
            handling: self.handling,
            tax: self.tax,
            tax_on: self.tax_on,
        }
    }
}

/// `deposit=40% of gross`, `cloth=100% of materials by 2026-11-01`, `rest`.
pub(super) fn stage(text: &str) -> Result<StageInput, CommandError> {
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name.trim(), Some(amount.trim())),
        None => (text.trim(), None),
    };
    if name.is_empty() || amount.is_some_and(str::is_empty) {
        return Err(CommandError::usage_hint(
            format!("\"{text}\" is not a stage of payment"),
            "write it as in --stage 'deposit=40% of gross', and the last one with its name alone",
        ));
    }
    let (amount, due) = match amount.and_then(|amount| amount.rsplit_once(" by ")) {
        Some((amount, day)) => {
            let due: NaiveDate = day.trim().parse().map_err(|_| {
                CommandError::usage_hint(
                    format!("\"{day}\" is not the day that a stage is due by"),
                    "write it as in 'deposit=40% of gross by 2026-11-01'",
                )
            })?;
            (Some(amount.trim()), Some(due))
        }
        None => (amount, None),
    };
    Ok(StageInput {
        name: name.to_owned(),
        amount: amount.map(str::to_owned),
        due,
    })
}

pub(super) fn stages(texts: &[String]) -> Result<Vec<StageInput>, CommandError> {
    texts.iter().map(|text| stage(text)).collect()
}

#[cfg(test)]
mod tests {
    use super::stage;

    #[test]
    fn a_stage_has_a_name_and_mostly_an_amount_and_a_day() {
        let read = |text: &str| {
            let stage = stage(text).expect("a stage");
            (
                stage.name,
                stage.amount,
                stage.due.map(|due| due.to_string()),
            )
        };
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(
            read("deposit=40% of gross"),
            ("deposit".to_owned(), some("40% of gross"), None)
        );
        assert_eq!(
            read("cloth = 50% of labour + 20.00 by 2026-11-01"),
            (
                "cloth".to_owned(),
                some("50% of labour + 20.00"),
                some("2026-11-01")
            )
        );
        assert_eq!(
            read("last fitting"),
            ("last fitting".to_owned(), None, None)
        );
        for text in [
            "",
            "=40% of gross",
            "deposit=",
            "deposit=40% of gross by May",
        ] {
            assert!(stage(text).is_err(), "{text}");
        }
    }
}
