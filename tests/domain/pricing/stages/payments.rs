//! What is paid of stages, what is due, and what is kept of a cancelled order.

use super::super::{INSIDE, ON_TOP, money, pc, taxed};
use super::{gross, made_to_measure, schedule, share, stage};
use ellwand_domain::{
    pricing::{
        Amounts, Cancelled, PaidFor, Payable, PriceLineOf, PricingError, Schedule, ShareOf,
        TaxLine, TaxRate, TaxRules, Term, tax,
    },
    quantity::{Money, PartsPerMillion},
};
use proptest::prelude::*;

/// 135.00, 225.00 and 540.00.
fn agreed() -> Schedule {
    let plan = [
        stage("order", &[gross("15%")]),
        stage("toile", &[gross("25%")]),
        stage("end", &[]),
    ];
    made_to_measure("0.00 EUR", &plan).unwrap()
}

#[test]
fn payments_fill_the_stages_in_order() {
    // By hand: two stages reached, 360.00; paid 200.00.
    let standing = agreed()
        .standing(2, &[money("135.00 EUR"), money("65.00 EUR")])
        .unwrap();
    assert_eq!(
        (standing.due, standing.paid),
        (money("360.00 EUR"), money("200.00 EUR"))
    );
    assert_eq!(
        (standing.open, standing.left),
        (money("160.00 EUR"), money("700.00 EUR"))
    );
    assert_eq!(standing.over, money("0.00 EUR"));
    let stages: Vec<_> = standing
        .stages
        .iter()
        .map(|stage| (stage.name.as_str(), stage.paid.minor))
        .collect();
    assert_eq!(stages, [("order", 135_00), ("toile", 65_00), ("end", 0)]);
    assert_eq!(standing.stages[1].amount, money("225.00 EUR"));
}

#[test]
fn what_is_paid_early_or_too_much_is_reported() {
    // By hand: nothing is due yet, 900.00 in all.
    let early = agreed().standing(0, &[money("135.00 EUR")]).unwrap();
    assert_eq!(
        (early.due, early.open, early.left),
        (money("0.00 EUR"), money("0.00 EUR"), money("765.00 EUR"))
    );
    let over = agreed()
        .standing(3, &[money("950.00 EUR"), money("-20.00 EUR")])
        .unwrap();
    assert_eq!(
        (over.open, over.left, over.over),
        (money("0.00 EUR"), money("0.00 EUR"), money("30.00 EUR"))
    );
}

#[test]
fn payments_that_cannot_be_are_refused() {
    assert!(agreed().standing(3, &[]).is_ok());
    assert_eq!(
        agreed().standing(4, &[]),
        Err(PricingError::UnknownStage {
            reached: 4,
            stages: 3
        })
    );
    let mixed = PricingError::MixedCurrencies {
        wanted: "EUR".parse().unwrap(),
        given: money("1.00 USD"),
    };
    assert_eq!(agreed().standing(0, &[money("1.00 USD")]), Err(mixed));
    let back = agreed().standing(0, &[money("1.00 EUR"), money("-1.01 EUR")]);
    assert_eq!(
        back,
        Err(PricingError::Negative {
            what: "what was paid",
            given: "-0.01 EUR".into()
        })
    );
}

#[test]
fn cancelling_keeps_what_was_agreed_and_gives_the_rest_back() {
    // By hand: all materials (140.00) and a tenth of the labour (90.00) are kept.
    let plan = [stage("order", &[gross("50%")]), stage("end", &[])];
    let agreed = made_to_measure("140.00 EUR", &plan).unwrap();
    let keep = [
        share(ShareOf::Materials, "100%"),
        share(ShareOf::Labour, "10%"),
    ];
    let cancelled = |paid| agreed.cancelled(&[money(paid)], &keep).unwrap();
    let of = |kept, returned, uncovered| Cancelled {
        kept: money(kept),
        returned: money(returned),
        uncovered: money(uncovered),
    };
    assert_eq!(
        cancelled("520.00 EUR"),
        of("230.00 EUR", "290.00 EUR", "0.00 EUR")
    );
    assert_eq!(
        cancelled("100.00 EUR"),
        of("100.00 EUR", "0.00 EUR", "130.00 EUR")
    );
    let nothing = agreed.cancelled(&[money("520.00 EUR")], &[]).unwrap();
    assert_eq!(nothing, of("0.00 EUR", "520.00 EUR", "0.00 EUR"));
    let (kept, total) = (money("1040.01 EUR"), money("1040.00 EUR"));
    let more = [gross("100%"), Term::Fixed(money("0.01 EUR"))];
    let more = agreed.cancelled(&[money("520.00 EUR")], &more);
    assert_eq!(more, Err(PricingError::KeepsMore { kept, total }));
    let negative = PricingError::Negative {
        what: "what was paid",
        given: "-1.00 EUR".into(),
    };
    assert_eq!(
        agreed.cancelled(&[money("-1.00 EUR")], &keep),
        Err(negative)
    );
}

/// By hand: labour of 200.00 and materials of 100.00, 10 % off both, 25 % tax: 40 % of the labour are 40 % of 225.00, whether the
/// lines are shown with their tax or without.
#[test]
fn what_is_kept_of_the_labour_does_not_hang_on_how_prices_are_shown() {
    let kinds = [
        PriceLineOf::Materials,
        PriceLineOf::Labour,
        PriceLineOf::Discount(pc("10%")),
    ];
    for (rules, lines, labour) in [
        (
            ON_TOP,
            ["100.00 EUR", "200.00 EUR", "-30.00 EUR"],
            "200.00 EUR",
        ),
        (
            INSIDE,
            ["125.00 EUR", "250.00 EUR", "-37.50 EUR"],
            "250.00 EUR",
        ),
    ] {
        let taxed = taxed(rules, &lines.map(|line| (line, "25%")));
        let paid_for = PaidFor::of(&taxed, &kinds).unwrap();
        assert_eq!(
            paid_for,
            PaidFor {
                materials: 112_50,
                labour: 225_00,
                handling: 0
            }
        );
        let payable = Payable {
            taxed: &taxed,
            labour: money(labour),
            materials: money(lines[0]),
            paid_for,
        };
        let schedule = Schedule::build(&payable, &[stage("all", &[])]).unwrap();
        let keep = [share(ShareOf::Labour, "40%")];
        let cancelled = schedule.cancelled(&[money("100.00 EUR")], &keep).unwrap();
        assert_eq!(
            (cancelled.kept.minor, cancelled.uncovered.minor),
            (90_00, 0)
        );
        let all = [
            share(ShareOf::Labour, "100%"),
            share(ShareOf::Materials, "100%"),
        ];
        let cancelled = schedule.cancelled(&[money("300.00 EUR")], &all).unwrap();
        assert_eq!(
            (cancelled.kept.minor, cancelled.uncovered.minor),
            (300_00, 37_50)
        );
    }
}

/// By hand: 100.00 of materials and 200.00 of labour, 10 % off both, 25 % tax: 112.50 and 225.00 are paid for them. A stage of
/// 12.345 % of the labour with tax is 27.77625, so 27.78; the rest of 337.50 is 197.22.
#[test]
fn a_stage_can_be_what_is_paid_for_a_part() {
    let kinds = [
        PriceLineOf::Materials,
        PriceLineOf::Labour,
        PriceLineOf::Discount(pc("10%")),
    ];
    let lines = ["100.00 EUR", "200.00 EUR", "-30.00 EUR"].map(|line| (line, "25%"));
    let taxed = taxed(ON_TOP, &lines);
    let payable = Payable {
        taxed: &taxed,
        labour: money("200.00 EUR"),
        materials: money("100.00 EUR"),
        paid_for: PaidFor::of(&taxed, &kinds).unwrap(),
    };
    let plan = [
        stage("cloth", &[share(ShareOf::MaterialsWithTax, "100%")]),
        stage("work", &[share(ShareOf::LabourWithTax, "12.345%")]),
        stage("rest", &[]),
    ];
    let schedule = Schedule::build(&payable, &plan).unwrap();
    assert_eq!(super::due(&schedule), [112_50, 27_78, 197_22]);
}

proptest! {
    /// Materials, labour and the rest, each with its tax, are paid to the cent.
    #[test]
    fn the_parts_with_tax_are_stages_that_add_up(
        lines in prop::collection::vec((0..1_000_000_i64, any::<bool>(), 0..3_usize), 1..8),
        inside in any::<bool>(),
        rounding in prop::sample::select(super::super::MODES.to_vec()),
    ) {
        let kinds = [PriceLineOf::Materials, PriceLineOf::Labour, PriceLineOf::Handling];
        let kinds: Vec<_> = lines.iter().map(|(_, _, kind)| kinds[*kind]).collect();
        let rates = [("full", "20%"), ("low", "5.5%")].map(|(name, share)| TaxRate::parse(name, share).unwrap());
        let currency = "EUR".parse().unwrap();
        let taxes: Vec<_> = lines.iter().map(|(minor, full, _)| TaxLine {
            amount: Money { minor: *minor, currency },
            rate: if *full { "full" } else { "low" }.into(),
        }).collect();
        let rules = TaxRules { rounding, ..if inside { INSIDE } else { ON_TOP } };
        let taxed = tax(rules, &rates, &taxes).unwrap();
        let paid_for = PaidFor::of(&taxed, &kinds).unwrap();
        let nothing = money("0.00 EUR");
        let payable = Payable { taxed: &taxed, labour: nothing, materials: nothing, paid_for };
        let plan = [
            stage("cloth", &[share(ShareOf::MaterialsWithTax, "100%")]),
            stage("work", &[share(ShareOf::LabourWithTax, "100%")]),
            stage("rest", &[]),
        ];
        let schedule = Schedule::build(&payable, &plan).unwrap();
        prop_assert_eq!(super::due(&schedule), [paid_for.materials, paid_for.labour, paid_for.handling]);
        prop_assert_eq!(Amounts::sum(schedule.stages.iter().map(|stage| &stage.amounts)), Ok(taxed.total));
    }

    #[test]
    fn what_is_paid_for_is_the_total_in_all(
        lines in prop::collection::vec((-100_000..1_000_000_i64, any::<bool>(), 0..4_usize), 1..8),
        inside in any::<bool>(),
    ) {
        let kinds = [
            PriceLineOf::Materials,
            PriceLineOf::Labour,
            PriceLineOf::Handling,
            PriceLineOf::Discount(pc("10%")),
        ];
        let rates = [("full", "20%"), ("low", "5.5%")].map(|(name, share)| TaxRate::parse(name, share).unwrap());
        let currency = "EUR".parse().unwrap();
        let taxes: Vec<_> = lines.iter().map(|(minor, full, _)| TaxLine {
            amount: Money { minor: *minor, currency },
            rate: if *full { "full" } else { "low" }.into(),
        }).collect();
        let kinds: Vec<_> = lines.iter().map(|(_, _, kind)| kinds[*kind]).collect();
        let rules = if inside { INSIDE } else { ON_TOP };
        let taxed = tax(rules, &rates, &taxes).unwrap();
        let PaidFor { materials, labour, handling } = PaidFor::of(&taxed, &kinds).unwrap();
        prop_assert_eq!(materials + labour + handling, taxed.total.gross);
    }

    /// A change may take more off at a rate than it adds; its stages still add up in every part.
    #[test]
    fn stages_of_a_change_add_up_at_every_rate(
        more in 1..1_000_000_i64,
        off in 1..1_000_000_i64,
        shares in prop::collection::vec(0..=200_000_i64, 0..5),
        place in prop::sample::select(super::super::PLACES.to_vec()),
        rounding in prop::sample::select(super::super::MODES.to_vec()),
    ) {
        let rates = [("full", "20%"), ("low", "5.5%")].map(|(name, share)| TaxRate::parse(name, share).unwrap());
        let currency = "EUR".parse().unwrap();
        let lines = [(more, "full"), (-off.min(more), "low")].map(|(minor, rate)| TaxLine {
            amount: Money { minor, currency },
            rate: rate.into(),
        });
        let taxed = tax(TaxRules { place, rounding, ..ON_TOP }, &rates, &lines).unwrap();
        let mut plan: Vec<_> = shares.iter().map(|ppm| {
            stage("part", &[Term::Share { of: ShareOf::Gross, share: PartsPerMillion::new(*ppm).unwrap() }])
        }).collect();
        plan.push(stage("rest", &[]));
        let schedule = schedule(&taxed, &plan).unwrap();
        prop_assert_eq!(Amounts::sum(schedule.stages.iter().map(|stage| &stage.amounts)), Ok(taxed.total));
        for (at, total) in taxed.rates.iter().enumerate() {
            let parts: Vec<_> = schedule.stages.iter().map(|stage| stage.rates[at].amounts).collect();
            prop_assert_eq!(Amounts::sum(&parts), Ok(total.amounts));
            let sign = total.amounts.gross.signum();
            for Amounts { net, tax, gross } in parts {
                prop_assert!(net + tax == gross && net * sign >= 0 && tax * sign >= 0);
            }
        }
    }
}

/// By hand: a stage is reached with its day and with every later one; a stage without a day between two waits for the later.
#[test]
fn stages_are_reached_in_order_by_their_days() {
    let day = |month, day| chrono::NaiveDate::from_ymd_opt(2026, month, day);
    let on = |month, of: &[_]| ellwand_domain::pricing::stages_reached(of, day(month, 12).unwrap());
    let (before, today, after) = (day(10, 11), day(10, 12), day(10, 13));
    for (due, reached) in [
        (vec![], 0),
        (vec![None, None], 0),
        (vec![before, today, after], 2),
        (vec![after], 0),
        (vec![today], 1),
        (vec![before, None, after], 1),
        (vec![before, None, today], 3),
        (vec![None, before], 2),
        // Out of order, as it was agreed: the second has come, so the first has.
        (vec![after, before, None], 2),
    ] {
        assert_eq!(on(10, &due), reached, "{due:?}");
    }
    // Over the turn of the year.
    let turn = [
        day(12, 12),
        day(12, 31),
        chrono::NaiveDate::from_ymd_opt(2027, 1, 2),
    ];
    assert_eq!((on(11, &turn), on(12, &turn)), (0, 1));
    assert_eq!(
        ellwand_domain::pricing::stages_reached(
            &turn,
            chrono::NaiveDate::from_ymd_opt(2027, 1, 1).unwrap()
        ),
        2
    );
    let plan = [stage("deposit", &[gross("40%")]), stage("rest", &[])];
    let schedule = schedule(&taxed(ON_TOP, &[("100.00 EUR", "20%")]), &plan).unwrap();
    let reached = |delivered| schedule.reached(&[after, None], today.unwrap(), delivered);
    assert_eq!(
        (reached(false), reached(true)),
        (0, 2),
        "after delivery all"
    );
}
