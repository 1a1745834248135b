//! Prices of a line and of a unit.

use super::{EUR, cloth, m};
use ellwand_domain::purchase::{Paid, Price, PriceError, land};

#[test]
fn what_was_bought_by_the_yard_or_the_kilo_keeps_its_price() {
    // Derived: 2.5 yd at 12.00 is 30.00 for 2.286 m, 13.1234 a metre.
    let yards = land(&[cloth(30_00, 2_286_000, 0)], &[], EUR)
        .unwrap()
        .home_total;
    assert_eq!(yards.share(1_000_000, 2_286_000), Ok(m(13_123_360)));
    // Derived: 1.240 kg at 14.00 is 17.36; at 230 g/m² and 1.50 m wide 3.5942 m, 4.83 a metre.
    let kilo = land(&[cloth(17_36, 3_594_202, 1_240_000)], &[], EUR)
        .unwrap()
        .home_total;
    assert_eq!(kilo.share(1_000_000, 3_594_202), Ok(m(4_830_001)));
}

fn price_of(price: &str, paid: Option<&str>, counted: bool) -> Result<i64, PriceError> {
    let paid = paid.map(|text| Paid::parse(text, counted).unwrap());
    Price::parse(price, Some("EUR".parse().unwrap()))?.of(paid)
}

#[test]
fn a_unit_price_is_multiplied_by_what_was_paid_for() {
    // Derived: 2.5 yd at 12.00 = 30.00; 1.240 kg at 14.00 = 17.36; 6 buttons at 0.85 = 5.10.
    assert_eq!(price_of("12.00/yd", Some("2.5yd"), false), Ok(30_00));
    assert_eq!(price_of("14.00/kg", Some("1.240kg"), false), Ok(17_36));
    assert_eq!(price_of("0.85/pc", Some("6"), true), Ok(5_10));
    assert_eq!(
        price_of("EUR 4.50/5000m", Some("10 000 m"), false),
        Ok(9_00)
    );
    // Halves up: 0.5 m at 0.25 a metre = 0.125.
    assert_eq!(price_of("0.25/m", Some("0.5m"), false), Ok(13));
    assert_eq!(price_of("88.00", None, false), Ok(88_00));
}

#[test]
fn a_unit_price_needs_a_quantity_of_its_own_measure() {
    let per = "length";
    assert_eq!(
        price_of("12.00/m", None, false),
        Err(PriceError::NothingPaid { per })
    );
    assert_eq!(
        price_of("12.00/m", Some("2kg"), false),
        Err(PriceError::OtherMeasure { per, paid: "mass" })
    );
    for text in ["12.00/", "12.00/gsm", "12.00/0m", "1.234", "-1.00/m"] {
        assert!(price_of(text, Some("2m"), false).is_err(), "{text}");
    }
}

#[test]
fn what_was_paid_for_needs_its_unit_unless_it_is_counted() {
    assert!(Paid::parse("4", false).is_err());
    assert!(Paid::parse("0m", false).is_err());
    assert!(Paid::parse("4", true).is_ok());
    assert!(Paid::parse("4.5", true).is_err());
    assert!(matches!(Paid::parse("3 pcs", false), Ok(Paid::Count(_))));
    assert!(matches!(Paid::parse("1.240kg", false), Ok(Paid::Mass(_))));
}
