//! Reads a stage of payment.

use super::StageInput;
use crate::typed::date;

/// Reads a stage of payment: `deposit=40% of gross`, `cloth=100% of materials by 2026-11-01`, `rest`.
///
/// # Errors
/// No name, an amount of nothing, a day that is none.
pub fn stage(text: &str) -> Result<StageInput, String> {
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name.trim(), Some(amount.trim())),
        None => (text.trim(), None),
    };
    if name.is_empty() || amount.is_some_and(str::is_empty) {
        return Err(format!(
            "\"{text}\" is not a stage of payment, for example deposit=40% of gross; the last one has its name alone"
        ));
    }
    let (amount, due) = match amount.and_then(|amount| amount.rsplit_once(" by ")) {
        Some((amount, day)) => (Some(amount.trim()), Some(date(day)?)),
        None => (amount, None),
    };
    Ok(StageInput {
        name: name.to_owned(),
        amount: amount.map(str::to_owned),
        due,
    })
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
