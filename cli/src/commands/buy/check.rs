//! Reads a purchase's quantities with the book's own readers before it is sent.

use crate::{
    sheet::{self, Faults},
    typed::{any_amount, checked, length_or_count, length_or_mass},
};
use ellwand_contract::purchases::{Buy, LineInput};
use ellwand_domain::{
    purchase::about,
    quantity::{Currency, Micrometres, Milligrams, Money, MoneyError, QuantityError, Rate},
    setting::Kind,
    shrinkage::Preparation,
};

/// Every value that cannot be read without the book, with its field: `line[0].paid`.
pub(super) fn check(buy: &Buy) -> Faults {
    let mut faults = Faults::default();
    faults.read("currency", buy.currency.as_deref(), checked::<Currency>);
    faults.read("rate", buy.rate.as_deref(), checked::<Rate>);
    let home = buy.home_amount.as_deref();
    faults.read("home_amount", home, |text| money(text, None));
    let currency = buy.currency.as_deref().and_then(|code| code.parse().ok());
    for (place, line) in buy.lines.iter().enumerate() {
        faults.within(&format!("line[{place}]"), check_line(line, currency));
    }
    for (place, charge) in buy.charges.iter().enumerate() {
        let field = format!("charge[{place}].amount");
        faults.read(&field, Some(&charge.amount), |text| {
            money(text.trim_start_matches('-'), currency)
        });
    }
    faults
}

/// What is said where a line has no price at all.
const NO_PRICE: &str = "it is missing: give it, price=0 for a gift, or price=unknown";

fn price_or_unknown(text: &str, currency: Option<Currency>) -> Result<(), String> {
    let (text, _) = about(text);
    match text.to_lowercase().as_str() {
        "" | "?" | "unknown" => Ok(()),
        _ => money(text, currency),
    }
}

pub(super) fn check_line(line: &LineInput, currency: Option<Currency>) -> Faults {
    let mut faults = Faults::default();
    let kind = line.material.kind;
    let rectangle = kind.is_some_and(Kind::is_rectangle);
    let paid = match rectangle {
        true => length_or_mass,
        false => any_amount,
    };
    let known = |text: &str, read: fn(&str) -> Result<String, String>| read(about(text).0);
    faults.read("paid", line.paid.as_deref(), |text| known(text, paid));
    let by_length = rectangle || kind == Some(Kind::Thread);
    let measured = match by_length {
        true => checked::<Micrometres>,
        false => length_or_count,
    };
    faults.read("measured", line.measured.as_deref(), |text| {
        known(text, measured)
    });
    faults.read("width", line.width.as_deref(), checked::<Micrometres>);
    for (place, piece) in line.pieces.iter().enumerate() {
        faults.read(&format!("pieces[{place}]"), Some(piece), |text| {
            known(text, measured)
        });
    }
    match &line.price {
        None => faults.add("price", NO_PRICE.to_owned()),
        Some(price) => {
            let price = price.split('/').next();
            faults.read("price", price, |text| price_or_unknown(text, currency));
        }
    }
    let replacement = line.replacement.as_deref();
    let replacement = replacement.and_then(|text| text.split('/').next());
    faults.read("replacement", replacement, |text| money(text, None));
    faults.read("mass", line.mass.as_deref(), checked::<Milligrams>);
    let preparation = line.preparation.as_deref();
    faults.read("preparation", preparation, checked::<Preparation>);
    faults.within("material", sheet::check(&line.material.sheet));
    faults
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
            opening: false,
            check: false,
            file_sha256: None,
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
        check(&buy)
            .0
            .into_iter()
            .next()
            .map(|fault| (fault.field, fault.message))
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
