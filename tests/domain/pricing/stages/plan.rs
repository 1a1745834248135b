//! Stages of a price: shares, fixed amounts and their tax.

use super::super::{INSIDE, ON_TOP, amounts, cents, money, pc, taxed};
use super::{due, gross, made_to_measure, schedule, share, stage};
use ellwand_domain::{
    pricing::{
        Amounts, PaidFor, Payable, PricesShown, PricingError, Rounding, Schedule, ShareOf,
        StagePlan, TaxLine, TaxPlace, TaxRate, TaxRules, Term, price_by_margin, tax,
    },
    quantity::{Money, PartsPerMillion},
};
use proptest::prelude::*;

#[test]
fn a_deposit_holds_its_own_tax_and_the_balance_the_rest() {
    // Derived: a cost of 434.26 at a margin of 35 %, 20 % tax, a deposit of 40 % of the gross price; VAT falls due on the
    // amount received (HMRC VATTOS5105, Principal VAT Directive art. 65): 320.68 / 6 = 53.45.
    let net = price_by_margin(cents(434_26), pc("35%")).unwrap();
    let net = Rounding::HalfUp
        .to_minor(net, "EUR".parse().unwrap())
        .unwrap();
    let quote = taxed(ON_TOP, &[(net.to_string().as_str(), "20%")]);
    assert_eq!(quote.total, amounts(668_09, 133_62, 801_71));
    let plan = [stage("deposit", &[gross("40%")]), stage("balance", &[])];
    let schedule = schedule(&quote, &plan).unwrap();
    assert_eq!(schedule.stages[0].amounts, amounts(267_23, 53_45, 320_68));
    assert_eq!(schedule.stages[1].amounts, amounts(400_86, 80_17, 481_03));
    assert_eq!(
        (schedule.total(), schedule.stages[1].name.as_str()),
        (money("801.71 EUR"), "balance")
    );
}

#[test]
fn published_terms_of_makers_are_reproduced() {
    // Terms of lizadiaz.com (FAQ, 2016), missmacraes.wordpress.com and adamselindisdress.wordpress.com; sums derived.
    // 15 % and 25 % of the labour, then 60 % at the last fittings, which two of them share; the cloth is paid apart.
    let labour = |percent| [share(ShareOf::Labour, percent)];
    let plan = [
        stage("order", &labour("15%")),
        stage("toile", &labour("25%")),
        stage("fittings", &labour("60%")),
    ];
    assert_eq!(
        due(&made_to_measure("0.00 EUR", &plan).unwrap()),
        [135_00, 225_00, 540_00]
    );
    let plan = [
        stage("order", &labour("15%")),
        stage("toile", &labour("25%")),
        stage("third fitting", &labour("30%")),
        stage("last fitting", &[]),
    ];
    assert_eq!(
        due(&made_to_measure("0.00 EUR", &plan).unwrap()),
        [135_00, 225_00, 270_00, 270_00]
    );
    // Half the labour and all materials first.
    let first = [
        share(ShareOf::Labour, "50%"),
        share(ShareOf::Materials, "100%"),
    ];
    let plan = [stage("order", &first), stage("end", &[])];
    assert_eq!(
        due(&made_to_measure("140.00 EUR", &plan).unwrap()),
        [590_00, 450_00]
    );
}

#[test]
fn fixed_amounts_and_shares_stand_side_by_side() {
    // By hand: 200.00, a fifth of 1 040.00, the rest.
    let plan = [
        stage("booking", &[Term::Fixed(money("200.00 EUR"))]),
        stage("cutting", &[gross("20%")]),
        stage("collection", &[]),
    ];
    assert_eq!(
        due(&made_to_measure("140.00 EUR", &plan).unwrap()),
        [200_00, 208_00, 632_00]
    );
}

#[test]
fn a_deposit_is_shared_over_the_rates_and_taxed_at_each() {
    // By hand: 100.00 with 20 % and 50.00 with 5 % inside; 40 % are 40.00 and 20.00, their tax 6.67 and 0.95.
    let mixed = taxed(
        TaxRules {
            place: TaxPlace::Rate,
            ..INSIDE
        },
        &[("100.00 EUR", "20%"), ("50.00 EUR", "5%")],
    );
    let plan = [stage("deposit", &[gross("40%")]), stage("balance", &[])];
    let schedule = schedule(&mixed, &plan).unwrap();
    let rates = |at: usize| {
        schedule.stages[at]
            .rates
            .iter()
            .map(|rate| rate.amounts)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        rates(0),
        [amounts(33_33, 6_67, 40_00), amounts(19_05, 95, 20_00)]
    );
    assert_eq!(
        rates(1),
        [amounts(50_00, 10_00, 60_00), amounts(28_57, 1_43, 30_00)]
    );
}

#[test]
fn tiny_stages_never_take_more_tax_than_there_is() {
    // By hand: a sixth of 0.10 is 0.02; in each 0.03 it is half a cent, up, until none is left.
    let small = taxed(INSIDE, &[("0.10 EUR", "20%")]);
    let each = stage("part", &[Term::Fixed(money("0.03 EUR"))]);
    let plan = [each.clone(), each.clone(), each, stage("rest", &[])];
    let taxes = |schedule: Schedule| {
        schedule
            .stages
            .iter()
            .map(|stage| stage.amounts.tax)
            .collect::<Vec<_>>()
    };
    assert_eq!(taxes(schedule(&small, &plan).unwrap()), [1, 1, 0, 0]);
    // By hand: a sixth of 0.50 is 0.08 down; 0.05 holds none, until what is left is all tax.
    let small = taxed(
        TaxRules {
            rounding: Rounding::Down,
            ..INSIDE
        },
        &[("0.50 EUR", "20%")],
    );
    let mut plan = vec![stage("part", &[Term::Fixed(money("0.05 EUR"))]); 9];
    plan.push(stage("rest", &[]));
    assert_eq!(
        taxes(schedule(&small, &plan).unwrap()),
        [0, 0, 0, 0, 0, 0, 0, 0, 3, 5]
    );
}

#[test]
fn halves_of_a_cent_are_not_paid_twice() {
    // By hand: half of 0.01 is 0.01, up, and then nothing is left.
    let cent = taxed(ON_TOP, &[("0.01 EUR", "0%")]);
    let half = stage("half", &[gross("50%")]);
    assert_eq!(
        due(&schedule(&cent, &[half.clone(), half, stage("rest", &[])]).unwrap()),
        [1, 0, 0]
    );
}

#[test]
fn stages_beyond_the_total_are_refused() {
    let plan = |second| {
        [
            stage("order", &[gross("60%")]),
            stage("fitting", &[gross(second)]),
            stage("end", &[]),
        ]
    };
    assert_eq!(
        due(&made_to_measure("100.00 EUR", &plan("40%")).unwrap()),
        [600_00, 400_00, 0]
    );
    let refused = made_to_measure("100.00 EUR", &plan("40.0001%")).unwrap_err();
    let (planned, total) = (money("1000.01 EUR"), money("1000.00 EUR"));
    assert_eq!(
        refused,
        PricingError::ExceedsTotal {
            stage: "fitting".into(),
            planned,
            total
        }
    );
    let said = "up to fitting the stages come to 1000.01 EUR, but only 1000.00 EUR is to be paid";
    assert_eq!(refused.to_string(), said);
    let last = [
        stage("order", &[gross("60%")]),
        stage("end", &[gross("41%")]),
    ];
    let planned = money("1010.00 EUR");
    let refused = made_to_measure("100.00 EUR", &last);
    assert_eq!(
        refused,
        Err(PricingError::ExceedsTotal {
            stage: "end".into(),
            planned,
            total
        })
    );
}

#[test]
fn stages_that_all_have_amounts_must_come_to_the_total() {
    let plan = |last| {
        [
            stage("order", &[gross("60%")]),
            stage("end", &[gross(last)]),
        ]
    };
    assert_eq!(
        due(&made_to_measure("100.00 EUR", &plan("40%")).unwrap()),
        [600_00, 400_00]
    );
    let refused = made_to_measure("100.00 EUR", &plan("39.9999%")).unwrap_err();
    let (planned, total) = (money("999.99 EUR"), money("1000.00 EUR"));
    assert_eq!(refused, PricingError::DoNotSum { planned, total });
}

#[test]
fn stages_that_cannot_be_are_refused() {
    let refused = |plan: &[StagePlan]| made_to_measure("100.00 EUR", plan).unwrap_err();
    assert_eq!(refused(&[]), PricingError::NoStages);
    let open = [stage("order", &[]), stage("end", &[])];
    assert_eq!(
        refused(&open),
        PricingError::StageWithoutAmount {
            stage: "order".into()
        }
    );
    let with = |term| refused(&[stage("order", &[term]), stage("end", &[])]);
    let given = pc("100.0001%");
    let above = PricingError::AboveWhole {
        what: "the share of a stage",
        given,
    };
    assert_eq!(
        with(Term::Share {
            of: ShareOf::Materials,
            share: given
        }),
        above
    );
    let negative = |what, given: &str| PricingError::Negative {
        what,
        given: given.into(),
    };
    assert_eq!(with(gross("-1%")), negative("the share of a stage", "-1 %"));
    assert_eq!(
        with(Term::Fixed(money("-1.00 EUR"))),
        negative("the amount of a stage", "-1.00 EUR")
    );
    let mixed = |given| PricingError::MixedCurrencies {
        wanted: "EUR".parse().unwrap(),
        given: money(given),
    };
    assert_eq!(with(Term::Fixed(money("1.00 USD"))), mixed("1.00 USD"));
    assert_eq!(
        made_to_measure("-1.00 EUR", &open),
        Err(negative("the materials", "-1.00 EUR"))
    );
    let quote = taxed(ON_TOP, &[("900.00 EUR", "20%")]);
    let other = Payable {
        taxed: &quote,
        labour: money("900.00 USD"),
        materials: money("0.00 EUR"),
        paid_for: PaidFor::default(),
    };
    assert_eq!(Schedule::build(&other, &open), Err(mixed("900.00 USD")));
    let credit = taxed(ON_TOP, &[("9.00 EUR", "20%"), ("-11.00 EUR", "5%")]);
    assert_eq!(
        schedule(&credit, &open),
        Err(negative("the total", "-0.75 EUR"))
    );
}

/// By hand: 540.00 at 20 % and -110.00 at 10 %, as where a change drops cloth and adds work; half of 430.00 is 270.00 - 55.00.
#[test]
fn a_rate_below_zero_is_in_every_stage() {
    let change = taxed(
        TaxRules {
            place: TaxPlace::Rate,
            ..ON_TOP
        },
        &[("450.00 EUR", "20%"), ("-100.00 EUR", "10%")],
    );
    assert_eq!(change.total, amounts(350_00, 80_00, 430_00));
    let plan = [stage("now", &[gross("50%")]), stage("rest", &[])];
    let schedule = schedule(&change, &plan).unwrap();
    for stage in &schedule.stages {
        let rates: Vec<_> = stage.rates.iter().map(|rate| rate.amounts).collect();
        assert_eq!(
            rates,
            [
                amounts(225_00, 45_00, 270_00),
                amounts(-50_00, -5_00, -55_00)
            ]
        );
    }
}

/// Lines of minor units at 20 % or 5.5 %, and shares of the gross in ppm that do not exceed it.
fn agreement() -> impl Strategy<Value = (Vec<(i64, bool)>, Vec<i64>)> {
    let lines = prop::collection::vec(
        (prop_oneof![0..30_i64, 0..1_000_000_i64], any::<bool>()),
        1..5,
    );
    (
        lines,
        prop::collection::vec(prop_oneof![0..=250_000_i64, Just(250_000)], 0..5),
    )
}

proptest! {
    #[test]
    fn the_stages_add_up_to_the_price_in_every_part(
        (lines, shares) in agreement(),
        down in any::<bool>(),
        inside in any::<bool>(),
    ) {
        let rules = TaxRules {
            shown: if inside { PricesShown::WithTax } else { PricesShown::WithoutTax },
            rounding: if down { Rounding::Down } else { Rounding::HalfUp },
            place: TaxPlace::Line,
        };
        let rates = [("full", "20%"), ("low", "5.5%")].map(|(name, share)| TaxRate::parse(name, share).unwrap());
        let currency = "EUR".parse().unwrap();
        let lines = lines.iter().map(|(minor, full)| TaxLine {
            amount: Money { minor: *minor, currency },
            rate: if *full { "full" } else { "low" }.into(),
        });
        let taxed = tax(rules, &rates, &lines.collect::<Vec<_>>()).unwrap();
        let mut plan: Vec<_> = shares.iter().map(|ppm| {
            stage("part", &[Term::Share { of: ShareOf::Gross, share: PartsPerMillion::new(*ppm).unwrap() }])
        }).collect();
        plan.push(stage("rest", &[]));
        let schedule = schedule(&taxed, &plan).unwrap();

        prop_assert_eq!(Amounts::sum(schedule.stages.iter().map(|stage| &stage.amounts)), Ok(taxed.total));
        for (at, total) in taxed.rates.iter().enumerate() {
            let parts = schedule.stages.iter().map(|stage| &stage.rates[at].amounts);
            prop_assert_eq!(Amounts::sum(parts), Ok(total.amounts));
        }
        for stage in &schedule.stages {
            prop_assert_eq!(Amounts::sum(stage.rates.iter().map(|rate| &rate.amounts)), Ok(stage.amounts));
            for Amounts { net, tax, gross } in stage.rates.iter().map(|rate| rate.amounts) {
                prop_assert!(net >= 0 && tax >= 0 && net + tax == gross);
            }
        }
        // Every stage but the last is its share to half a cent, where as much is left.
        let mut left = taxed.total.gross;
        for (ppm, stage) in shares.iter().zip(&schedule.stages) {
            let gross = stage.amounts.gross;
            let error = i128::from(gross) * 1_000_000 - i128::from(taxed.total.gross) * i128::from(*ppm);
            prop_assert!((-500_000 < error && error <= 500_000) || gross == left);
            left -= gross;
        }
        // A stage pays on no matter how it is paid.
        let paid = schedule.standing(schedule.stages.len(), &[schedule.total()]).unwrap();
        prop_assert!(paid.stages.iter().all(|stage| stage.paid == stage.amount));
        prop_assert_eq!((paid.open.minor, paid.left.minor, paid.over.minor), (0, 0, 0));
    }
}
