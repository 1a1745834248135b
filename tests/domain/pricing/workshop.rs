//! What an hour must bring.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 35_87 is 35.87"
)]

use super::{cents, m, min, pc};
use ellwand_domain::{
    costing::HourlyCost,
    pricing::{PricingError, WorkshopFigures, price_by_margin, price_by_markup},
    quantity::{Millionths, PartsPerMillion},
};

fn figures() -> WorkshopFigures {
    WorkshopFigures {
        pay: cents(30_000_00),
        overhead: cents(9_600_00),
        weeks: 46,
        minutes_per_week: min(40 * 60),
        billable: pc("60%"),
    }
}

fn per_hour(rate: &HourlyCost) -> String {
    rate.of(60).unwrap().rounded(2)
}

#[test]
fn a_billable_hour_carries_pay_and_overhead_once_each() {
    // Derived from the formula of heancalculator.com: 46 weeks of 40 h, 60 % billable, are 1 104 h; 39 600 over them.
    let rates = figures().rates().unwrap();
    assert_eq!(rates.figures, figures());
    assert_eq!(
        (rates.worked, rates.billable),
        (min(1_840 * 60), min(1_104 * 60))
    );
    // By hand: 30 000 / 1 104 = 27.1739, 9 600 / 1 104 = 8.6957.
    assert_eq!(
        (per_hour(&rates.labour), per_hour(&rates.overhead)),
        ("27.17".into(), "8.70".into())
    );
    assert_eq!(rates.hourly.of(60).unwrap().rounded(4), "35.8696");
    assert_eq!(
        rates.hourly,
        HourlyCost::over(cents(39_600_00), 1_104 * 60).unwrap()
    );
    // Ten percent on top, and a margin of ten percent.
    let hour = rates.hourly.of(60).unwrap();
    assert_eq!(
        price_by_markup(hour, pc("10%")).unwrap().rounded(2),
        "39.46"
    );
    assert_eq!(
        price_by_margin(hour, pc("10%")).unwrap().rounded(2),
        "39.86"
    );
}

#[test]
fn counting_every_hour_as_billable_makes_it_too_cheap() {
    // Derived: 39 600 over all 1 840 hours.
    let all = WorkshopFigures {
        billable: PartsPerMillion::WHOLE,
        ..figures()
    };
    assert_eq!(per_hour(&all.rates().unwrap().hourly), "21.52");
}

#[test]
fn billable_time_is_never_rounded_up() {
    // By hand: 10 min a week at 99.99 % are 9.999 min.
    let short = WorkshopFigures {
        weeks: 1,
        minutes_per_week: min(10),
        billable: pc("99.99%"),
        ..figures()
    };
    assert_eq!(short.rates().unwrap().billable, min(9));
}

#[test]
fn without_a_billable_hour_there_is_no_rate() {
    // Common practice: without activity there is no rate.
    let none = |figures: WorkshopFigures| {
        let (weeks, minutes, billable) = (
            figures.weeks,
            figures.minutes_per_week.get(),
            figures.billable,
        );
        assert_eq!(
            figures.rates(),
            Err(PricingError::NoBillableHours {
                weeks,
                minutes,
                billable
            })
        );
    };
    none(WorkshopFigures {
        weeks: 0,
        ..figures()
    });
    none(WorkshopFigures {
        weeks: -1,
        ..figures()
    });
    none(WorkshopFigures {
        minutes_per_week: min(0),
        ..figures()
    });
    none(WorkshopFigures {
        billable: pc("0%"),
        ..figures()
    });
    // Less than one minute, and exactly one.
    none(WorkshopFigures {
        weeks: 1,
        minutes_per_week: min(1),
        billable: pc("99.9999%"),
        ..figures()
    });
    let least = WorkshopFigures {
        weeks: 1,
        minutes_per_week: min(1),
        billable: pc("100%"),
        ..figures()
    };
    assert!(least.rates().is_ok());
    let said = WorkshopFigures {
        weeks: 0,
        ..figures()
    }
    .rates()
    .unwrap_err()
    .to_string();
    assert_eq!(
        said,
        "0 weeks of 2400 min, 60 % of them billable, leave no billable hour to carry pay and overhead"
    );
}

#[test]
fn figures_that_cannot_be_are_refused() {
    let refused = |figures: WorkshopFigures| figures.rates().unwrap_err();
    let negative = |what, given: &str| PricingError::Negative {
        what,
        given: given.into(),
    };
    assert_eq!(
        refused(WorkshopFigures {
            pay: m(-1),
            ..figures()
        }),
        negative("the pay wanted", "-0.000001")
    );
    let overhead = WorkshopFigures {
        overhead: m(-1_000_000),
        ..figures()
    };
    assert_eq!(refused(overhead), negative("the overhead", "-1.00"));
    let share = WorkshopFigures {
        billable: pc("-1%"),
        ..figures()
    };
    assert_eq!(refused(share), negative("the billable share", "-1 %"));
    let given = pc("100.0001%");
    let above = WorkshopFigures {
        billable: given,
        ..figures()
    };
    assert_eq!(
        refused(above),
        PricingError::AboveWhole {
            what: "the billable share",
            given
        }
    );
    let idle = WorkshopFigures {
        pay: Millionths::ZERO,
        overhead: Millionths::ZERO,
        ..figures()
    };
    assert_eq!(per_hour(&idle.rates().unwrap().hourly), "0.00");
}
