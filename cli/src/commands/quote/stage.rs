//! Stages of payment, on the command line.

use crate::command_error::CommandError;
use chrono::NaiveDate;
use ellwand_contract::quotations::StageInput;

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
