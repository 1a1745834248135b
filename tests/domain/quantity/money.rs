//! Currencies, money and rates, typed and printed.

use ellwand_domain::quantity::{
    Currency, CurrencyError, HourlyRate, Millionths, Money, MoneyError, QuantityError, Rate,
};

#[test]
fn currencies_have_the_digits_of_iso_4217() {
    // ISO 4217 list published 2026-01-01.
    let all = |digits: u32, codes: &str| {
        for code in codes.split(' ') {
            assert_eq!(code.parse::<Currency>().unwrap().digits(), digits, "{code}");
        }
    };
    all(
        0,
        "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    );
    all(3, "BHD IQD JOD KWD LYD OMR TND");
    all(4, "CLF UYW");
    // Display lists show these with other digits; ISO counts.
    all(
        2,
        "EUR USD GBP AFN ALL IRR KPW LAK LBP MGA MMK RSD SOS SYP YER VES VED XCG",
    );
    assert_eq!("IQD".parse::<Currency>().unwrap().digits(), 3);
    assert_eq!("eur".parse::<Currency>().unwrap().code(), "EUR");
    for code in ["XXX", "XAU", "XTS", "XDR"] {
        assert!(
            matches!(
                code.parse::<Currency>(),
                Err(CurrencyError::NoMinorUnit { .. })
            ),
            "{code}"
        );
    }
    for code in ["", "EURO", "ABC", "€", "E R"] {
        assert!(
            matches!(code.parse::<Currency>(), Err(CurrencyError::Unknown { .. })),
            "{code}"
        );
    }
    let gone = "HRK".parse::<Currency>().unwrap_err().to_string();
    assert_eq!(gone, "HRK is no longer a currency of ISO 4217, use EUR");
}

#[test]
fn money_keeps_the_digits_of_its_currency() {
    let eur: Currency = "EUR".parse().unwrap();
    for text in [
        "12.50",
        "12,50",
        "12.5",
        "EUR 12.50",
        "12.50 EUR",
        "eur12.50",
    ] {
        assert_eq!(
            Money::parse(text, Some(eur)).unwrap(),
            Money {
                minor: 1_250,
                currency: eur
            },
            "{text}"
        );
    }
    let gbp = Money::parse("GBP 88", Some(eur)).unwrap();
    assert_eq!((gbp.minor, gbp.currency.code()), (8_800, "GBP"));
    assert_eq!(
        Money::parse("125.61", Some(eur)).unwrap().to_string(),
        "125.61 EUR"
    );
    assert_eq!(
        Money::parse_signed("-3 EUR", None).unwrap().to_string(),
        "-3.00 EUR"
    );
    assert_eq!(Money::parse_signed("EUR -3", None).unwrap().minor, -300);
    assert_eq!(
        Money::parse("100 JPY", None).unwrap().to_string(),
        "100 JPY"
    );
    assert_eq!(
        Money::parse("1.234 KWD", None)
            .unwrap()
            .to_millionths()
            .unwrap()
            .get(),
        1_234_000
    );
    assert_eq!(
        Money::parse("12.50", Some(eur))
            .unwrap()
            .to_millionths()
            .unwrap()
            .get(),
        12_500_000
    );
}

#[test]
fn money_with_the_wrong_digits_is_refused_not_rounded() {
    // d-19, common practice.
    let digits = |text: &str| match Money::parse(text, None) {
        Err(MoneyError::Quantity(QuantityError::TooManyDigits { digits, .. })) => Some(digits),
        _ => None,
    };
    assert_eq!(digits("100.5 JPY"), Some(0));
    assert_eq!(digits("1.2345 KWD"), Some(3));
    assert_eq!(digits("EUR 0.001"), Some(2));
    let refused = |text: &str| Money::parse(text, None).unwrap_err();
    assert!(matches!(
        refused("12.50"),
        MoneyError::Quantity(QuantityError::MissingUnit { .. })
    ));
    assert!(matches!(
        refused("-12.50 EUR"),
        MoneyError::Quantity(QuantityError::Negative { .. })
    ));
    assert!(matches!(
        refused("12.50 XAU"),
        MoneyError::Currency(CurrencyError::NoMinorUnit { .. })
    ));
    assert!(matches!(
        refused("12 1/2 EUR"),
        MoneyError::Quantity(QuantityError::Unreadable { .. })
    ));
    assert!(matches!(
        refused("1,234 EUR"),
        MoneyError::Quantity(QuantityError::Unreadable { .. })
    ));
    assert!(matches!(
        refused("1000000000.01 EUR"),
        MoneyError::Quantity(QuantityError::TooLarge { .. })
    ));
    assert_eq!(
        Money::parse("1000000000 EUR", None).unwrap().minor,
        100_000_000_000
    );
}

#[test]
fn rates_are_positive_and_keep_their_digits() {
    assert_eq!("1.1700".parse::<Rate>().unwrap().to_string(), "1.1700");
    assert_eq!(
        "0,0000000001".parse::<Rate>().unwrap().to_string(),
        "0.0000000001"
    );
    for text in ["0", "0.00", "-1.17"] {
        assert!(
            matches!(text.parse::<Rate>(), Err(QuantityError::NotPositive { .. })),
            "{text}"
        );
    }
    assert!(matches!(
        "0.00000000001".parse::<Rate>(),
        Err(QuantityError::TooManyDigits { digits: 10, .. })
    ));
    for text in ["1.17 EUR", "1/2", "", "rate"] {
        assert!(text.parse::<Rate>().is_err(), "{text}");
    }
    assert_eq!("24.00".parse::<HourlyRate>().unwrap().get(), 240_000);
    assert_eq!(
        "35.8696/h".parse::<HourlyRate>().unwrap().decimal(),
        "35.8696"
    );
    assert_eq!("6.5".parse::<HourlyRate>().unwrap().to_string(), "6.50/h");
    assert!(matches!(
        "24.00001".parse::<HourlyRate>(),
        Err(QuantityError::TooManyDigits { digits: 4, .. })
    ));
    assert!(matches!(
        "-24".parse::<HourlyRate>(),
        Err(QuantityError::Negative { .. })
    ));
}

#[test]
fn values_print_exactly_and_rounded_half_up() {
    let value = |millionths| Millionths::new(millionths).unwrap();
    assert_eq!(value(85_943_684).decimal(), "85.943684");
    assert_eq!(value(12_500_000).decimal(), "12.50");
    assert_eq!(value(85_943_684).rounded(2), "85.94");
    assert_eq!(value(26_444_211).rounded(2), "26.44");
    // d-12, checked with Python's decimal: 0.075 → 0.08, 0.085 → 0.09, −2.345 → −2.35.
    assert_eq!(value(75_000).rounded(2), "0.08");
    assert_eq!(value(85_000).rounded(2), "0.09");
    assert_eq!(value(-2_345_000).rounded(2), "-2.35");
    // d-13: decimals, not binary floats: 1.005 → 1.01, 2.675 → 2.68.
    assert_eq!(
        Millionths::from_decimal("1.005").unwrap().rounded(2),
        "1.01"
    );
    assert_eq!(
        Millionths::from_decimal("2.675").unwrap().rounded(2),
        "2.68"
    );
    assert_eq!(value(1_500_000).rounded(0), "2");
    assert_eq!(value(85_943_684).minor(2), 8_594);
    assert_eq!(value(-1).decimal(), "-0.000001");
}
