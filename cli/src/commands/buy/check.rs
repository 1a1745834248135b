//! Reads a purchase's quantities with the book's own readers before it is sent.

use crate::{
    sheet::{self, Fault},
    typed::{any_amount, checked, length_or_count, length_or_mass},
};
use ellwand_contract::purchases::{Buy, LineInput};
use ellwand_domain::{
    quantity::{Currency, Micrometres, Milligrams, Money, MoneyError, QuantityError, Rate},
    setting::Kind,
    shrinkage::Preparation,
};

/// Checks every value that can be judged without the book.
///
/// # Errors
/// The first value that cannot be read, with its field: `line[0].paid`.
pub(super) fn check(buy: &Buy) -> Result<(), Fault> {
    one("currency", buy.currency.as_deref(), checked::<Currency>)?;
    one("rate", buy.rate.as_deref(), checked::<Rate>)?;
    one("home_amount", buy.home_amount.as_deref(), |text| {
        money(text, None)
    })?;
    let currency = buy.currency.as_deref().and_then(|code| code.parse().ok());
    for (place, line) in buy.lines.iter().enumerate() {
        check_line(line, currency).map_err(|fault| within(&format!("line[{place}]"), fault))?;
    }
    for (place, charge) in buy.charges.iter().enumerate() {
        one("amount", Some(&charge.amount), |text| {
            money(text.trim_start_matches('-'), currency)
        })
        .map_err(|fault| within(&format!("charge[{place}]"), fault))?;
    }
    Ok(())
}

fn check_line(line: &LineInput, currency: Option<Currency>) -> Result<(), Fault> {
    let kind = line.material.kind;
    let rectangle = kind.is_some_and(Kind::is_rectangle);
    one(
        "paid",
        line.paid.as_deref(),
        if rectangle {
            length_or_mass
        } else {
            any_amount
        },
    )?;
    let by_length = rectangle || kind == Some(Kind::Thread);
    let measured = if by_length {
        checked::<Micrometres>
    } else {
        length_or_count
    };
    one("measured", line.measured.as_deref(), measured)?;
    for (place, piece) in line.pieces.iter().enumerate() {
        one(&format!("pieces[{place}]"), Some(piece), measured)?;
    }
    let price = line.price.split('/').next();
    one("price", price, |text| money(text, currency))?;
    one("mass", line.mass.as_deref(), checked::<Milligrams>)?;
    one(
        "preparation",
        line.preparation.as_deref(),
        checked::<Preparation>,
    )?;
    sheet::check(&line.material.sheet).map_err(|fault| within("material", fault))
}

fn one<T>(
    field: &str,
    value: Option<&str>,
    check: impl Fn(&str) -> Result<T, String>,
) -> Result<(), Fault> {
    let Some(text) = value else { return Ok(()) };
    check(text).map(|_| ()).map_err(|message| Fault {
        field: field.to_owned(),
        message,
    })
}

fn within(outer: &str, fault: Fault) -> Fault {
    Fault {
        field: format!("{outer}.{}", fault.field),
        message: fault.message,
    }
}

/// Without a currency on the invoice the workshop's is meant, whose digits only the book knows.
fn money(text: &str, currency: Option<Currency>) -> Result<(), String> {
    let any = "EUR".parse().expect("EUR is a currency of ISO 4217");
    match Money::parse(text, Some(currency.unwrap_or(any))) {
        Err(MoneyError::Quantity(QuantityError::TooManyDigits { .. })) if currency.is_none() => {
            Ok(())
        }
        Err(error) => Err(error.to_string()),
        Ok(_) => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::buy::{charge, line};
    use uuid::Uuid;

    fn fault(lines: &[&str], charges: &[&str], currency: Option<&str>) -> Option<(String, String)> {
        let buy = Buy {
            id: Uuid::nil(),
            supplier: None,
            date: None,
            invoice: None,
            currency: currency.map(str::to_owned),
            rate: None,
            home_amount: None,
            note: None,
            lines: lines
                .iter()
                .map(|text| line::parse(text).expect("a line"))
                .collect(),
            charges: charges
                .iter()
                .map(|text| charge::parse(text).expect("a charge"))
                .collect(),
            really: false,
        };
        check(&buy).err().map(|fault| (fault.field, fault.message))
    }

    #[test]
    fn cloth_is_paid_by_length_or_mass_and_trims_by_count() {
        assert_eq!(
            fault(
                &[
                    "material=a,kind=cloth,paid=1.24kg,price=1",
                    "material=b,kind=trim,paid=12,price=1"
                ],
                &[],
                None
            ),
            None
        );
        let (field, message) =
            fault(&["material=a,kind=cloth,paid=4,price=1"], &[], None).expect("a bare number");
        assert_eq!(
            (field.as_str(), message.as_str()),
            ("line[0].paid", "\"4\" needs a unit, for example 4m")
        );
    }

    #[test]
    fn a_unit_price_is_read_and_digits_are_counted_for_a_known_currency() {
        assert_eq!(
            fault(&["material=a,price=12.00/yd"], &[], Some("EUR")),
            None
        );
        assert_eq!(
            fault(&["material=a,price=12.005"], &[], None),
            None,
            "the workshop's currency may have three digits"
        );
        assert_eq!(
            fault(&["material=a,price=12.5"], &[], Some("JPY")).map(|f| f.0),
            Some("line[0].price".to_owned())
        );
        assert_eq!(
            fault(&["material=a,price=1"], &["freight=x"], None).map(|f| f.0),
            Some("charge[0].amount".to_owned())
        );
        assert_eq!(
            fault(&["material=a,price=1"], &["discount=-5.00"], None),
            None
        );
    }
}
