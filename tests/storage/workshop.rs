//! Settings, rates, suppliers, customers.

use crate::database::TestDatabase;
use crate::draft::{ADA, BO, customer, day, supplier, workshop};
use ellwand_domain::setting::{
    DateOrder, OffcutValue, PictureKind, PooledMethod, PricesShown, Rounding, TaxPlace, UnitSystem,
    WorkKind,
};
use ellwand_storage::{
    KindPayRate, Logo, OverheadRate, PayRate, Supplier, TaxRate, TaxReclaim, UsualOperation,
    Workshop, YearlyFigures,
};

pub fn the_settings_are_one_row(book: &TestDatabase) {
    assert_eq!(book.get(|tx| tx.workshop()), None);
    let first = workshop();
    book.put(|tx| tx.save_workshop(&first));
    assert_eq!(book.get(|tx| tx.workshop()), Some(first.clone()));
    let second = Workshop {
        currency: "JPY".into(),
        currency_fixed: true,
        cutting_step_um: 5_000,
        closed_to: Some(day(3)),
        version: 7,
        changed_by: Some("ada".into()),
        changed_at: Some(crate::draft::instant(4)),
        changed_what: Some("currency".into()),
        date_order: Some(DateOrder::MonthFirst),
        cash_step_minor: Some(5),
        head: r#"{"name":"Slipway Workshop"}"#.into(),
        ..first
    };
    book.put(|tx| tx.save_workshop(&second));
    assert_eq!(book.get(|tx| tx.workshop()), Some(second));
    for set in [
        "cash_step_minor = 1",
        "cash_step_minor = 0",
        "cash_step_minor = -5",
        "date_order = 'year-first'",
        "head = 'Slipway'",
    ] {
        crate::rules::refused(book, &format!("UPDATE workshops SET {set}"));
    }
    let logo = Logo {
        id: 1,
        kind: PictureKind::Svg,
        picture: "PHN2Zy8+".to_owned(),
    };
    book.put(|tx| tx.insert_logo(&logo));
    assert_eq!(book.get(|tx| tx.logo(1)), Some(logo.clone()));
    assert_eq!(book.get(|tx| tx.logo_like("PHN2Zy8+")), Some(logo));
    assert_eq!(book.get(|tx| tx.logo_like("PHN2Zy9+")), None);
    for values in ["(2, 'gif', 'x')", "(2, 'png', '')", "(1, 'png', 'x')"] {
        let insert = format!("INSERT INTO logos (id, kind, picture) VALUES {values}");
        crate::rules::refused(book, &insert);
    }
}

pub fn every_word_of_the_settings_is_stored(book: &TestDatabase) {
    let taxed = |shown: &PricesShown, rounding: &Rounding, place: &TaxPlace| Workshop {
        prices_shown: (*shown),
        tax_rounding: (*rounding),
        tax_place: (*place),
        ..workshop()
    };
    for shown in PricesShown::ALL {
        for rounding in Rounding::ALL {
            for place in TaxPlace::ALL {
                let settings = taxed(shown, rounding, place);
                book.put(|tx| tx.save_workshop(&settings));
                assert_eq!(book.get(|tx| tx.workshop()), Some(settings));
            }
        }
    }
    for units in UnitSystem::ALL {
        for strip in OffcutValue::ALL {
            for method in PooledMethod::ALL {
                let settings = Workshop {
                    units: (*units),
                    strip_value: (*strip),
                    pooled_method: (*method),
                    pooled_method_fixed: true,
                    ..workshop()
                };
                book.put(|tx| tx.save_workshop(&settings));
                assert_eq!(book.get(|tx| tx.workshop()), Some(settings));
            }
        }
    }
}

pub fn a_person_has_one_pay_rate_a_day(book: &TestDatabase) {
    let rate = |id, person_id, per_hour, from| PayRate {
        id,
        person_id,
        per_hour,
        from_date: day(from),
    };
    let (early, late, other) = (
        rate(1, ADA, 180_000, 5),
        rate(2, ADA, 200_000, 9),
        rate(3, BO, 150_000, 9),
    );
    book.put(|tx| {
        tx.save_pay_rate(&late)?;
        tx.save_pay_rate(&early)?;
        tx.save_pay_rate(&other)
    });
    // Newest first, on one day by person.
    assert_eq!(
        book.get(|tx| tx.pay_rates()),
        vec![late.clone(), other, early.clone()]
    );
    let of_ada = || book.get(|tx| tx.pay_rates_of(ADA));
    assert_eq!(of_ada(), [late, early.clone()]);
    // The same person and day: replaced, under the old number.
    let other = rate(2, ADA, 0, 9);
    book.put(|tx| {
        tx.save_pay_rate(&PayRate {
            id: 7,
            ..other.clone()
        })
    });
    assert_eq!(of_ada(), [other, early.clone()]);
    assert_eq!(book.get(|tx| tx.pay_rates()).len(), 3);
    assert!(book.put(|tx| tx.delete_pay_rate(ADA, day(9))));
    assert!(
        !book.put(|tx| tx.delete_pay_rate(ADA, day(9))),
        "it is gone"
    );
    assert_eq!(of_ada(), [early]);
}

pub fn a_person_has_one_pay_rate_a_kind_and_day(book: &TestDatabase) {
    let rate = |id, person_id, kind: WorkKind, from| KindPayRate {
        id,
        person_id,
        kind,
        per_hour: 190_000,
        from_date: day(from),
    };
    for (id, kind) in (1..).zip(WorkKind::ALL) {
        book.put(|tx| tx.save_kind_pay_rate(&rate(id, ADA, *kind, 5)));
    }
    let all = i64::try_from(WorkKind::ALL.len()).unwrap();
    let other = rate(all + 1, BO, WorkKind::Hand, 5);
    book.put(|tx| tx.save_kind_pay_rate(&other));
    let of_ada = || book.get(|tx| tx.kind_pay_rates_of(ADA));
    let kinds: Vec<WorkKind> = of_ada().iter().map(|rate| rate.kind).collect();
    assert_eq!(
        (kinds.len(), kinds.contains(&WorkKind::Hand)),
        (WorkKind::ALL.len(), true)
    );
    assert_eq!(
        book.get(|tx| tx.kind_pay_rates()).last(),
        Some(&other),
        "by person"
    );
    // The same person, kind and day: replaced, under the old number.
    let again = KindPayRate {
        per_hour: 0,
        ..rate(1, ADA, WorkKind::Machine, 5)
    };
    book.put(|tx| {
        tx.save_kind_pay_rate(&KindPayRate {
            id: 99,
            ..again.clone()
        })
    });
    assert!(of_ada().contains(&again), "{:?}", of_ada());
    assert_eq!(of_ada().len(), WorkKind::ALL.len());
    for set in [
        "person_id = 9",
        "kind = 'magic'",
        "per_hour = -1",
        "kind = 'hand'",
    ] {
        crate::rules::refused(
            book,
            &format!("UPDATE pay_rates_by_kind SET {set} WHERE person_id = {ADA}"),
        );
    }
    assert!(book.put(|tx| tx.delete_kind_pay_rate(ADA, WorkKind::Machine, day(5))));
    assert!(
        !book.put(|tx| tx.delete_kind_pay_rate(ADA, WorkKind::Machine, day(5))),
        "it is gone"
    );
    assert_eq!(of_ada().len(), WorkKind::ALL.len() - 1);
}

pub fn reclaiming_tax_counts_from_its_day(book: &TestDatabase) {
    let reclaim = |id, reclaimed, from| TaxReclaim {
        id,
        reclaimed,
        from_date: day(from),
    };
    book.put(|tx| {
        tx.save_tax_reclaim(&reclaim(1, true, 9))?;
        tx.save_tax_reclaim(&reclaim(2, false, 5))
    });
    let on = |asked: u32| book.get(|tx| tx.tax_reclaim_on(day(asked)));
    assert_eq!((on(4), on(8)), (None, Some(reclaim(2, false, 5))));
    assert_eq!(on(9), Some(reclaim(1, true, 9)));
    book.put(|tx| tx.save_tax_reclaim(&reclaim(3, false, 9)));
    assert_eq!(
        book.get(|tx| tx.tax_reclaims()),
        [reclaim(1, false, 9), reclaim(2, false, 5)]
    );
    crate::rules::refused(book, "UPDATE tax_reclaims SET from_date = '2026-10-05'");
    assert!(book.put(|tx| tx.delete_tax_reclaim(day(9))));
    assert!(!book.put(|tx| tx.delete_tax_reclaim(day(9))), "it is gone");
    assert_eq!(on(30), Some(reclaim(2, false, 5)));
}

pub fn an_overhead_rate_counts_from_its_day(book: &TestDatabase) {
    let rate = |id, amount, from| OverheadRate {
        id,
        amount,
        minutes: 4_800,
        from_date: day(from),
    };
    book.put(|tx| {
        tx.save_overhead_rate(&rate(1, 600_000_000, 5))?;
        tx.save_overhead_rate(&rate(2, 700_000_000, 9))
    });
    let on = |asked: u32| book.get(|tx| tx.overhead_rate_on(day(asked)));
    assert_eq!((on(4), on(8)), (None, Some(rate(1, 600_000_000, 5))));
    assert_eq!(on(9), Some(rate(2, 700_000_000, 9)));
    let replaced = OverheadRate {
        minutes: 60,
        ..rate(2, 1, 9)
    };
    book.put(|tx| {
        tx.save_overhead_rate(&OverheadRate {
            id: 3,
            ..replaced.clone()
        })
    });
    assert_eq!(
        book.get(|tx| tx.overhead_rates()),
        vec![replaced, rate(1, 600_000_000, 5)]
    );
}

pub fn a_years_figures_count_from_their_day(book: &TestDatabase) {
    let figures = |id, pay, from| YearlyFigures {
        id,
        pay,
        overhead: 9_600_000_000,
        weeks: 46,
        week_minutes: 2_400,
        billable_ppm: 600_000,
        from_date: day(from),
    };
    let (early, late) = (figures(1, 30_000_000_000, 5), figures(2, 33_000_000_000, 9));
    book.put(|tx| {
        tx.save_yearly_figures(&late)?;
        tx.save_yearly_figures(&early)
    });
    let on = |asked: u32| book.get(|tx| tx.yearly_figures_on(day(asked)));
    assert_eq!(
        (on(4), on(5), on(8)),
        (None, Some(early.clone()), Some(early))
    );
    assert_eq!(on(9), Some(late.clone()));
    // The same day: replaced as a whole, under the old number.
    let other = YearlyFigures {
        pay: 0,
        overhead: 1,
        weeks: 1,
        week_minutes: 1,
        billable_ppm: 1,
        ..late
    };
    book.put(|tx| {
        tx.save_yearly_figures(&YearlyFigures {
            id: 7,
            ..other.clone()
        })
    });
    assert_eq!(on(30), Some(other.clone()));
    assert_eq!(book.get(|tx| tx.yearly_figures())[0], other);
    book.put(|tx| tx.delete_yearly_figures(day(9)));
    let left = book.get(|tx| tx.yearly_figures());
    assert_eq!(
        left.iter().map(|row| row.from_date).collect::<Vec<_>>(),
        [day(5)]
    );
    for column in [
        "pay = -1",
        "overhead = -1",
        "weeks = 0",
        "weeks = 54",
        "week_minutes = 0",
    ]
    .into_iter()
    .chain([
        "week_minutes = 10081",
        "billable_ppm = 0",
        "billable_ppm = 1000001",
    ]) {
        crate::rules::refused(book, &format!("UPDATE yearly_figures SET {column}"));
    }
}

pub fn tax_rates_keep_their_order_and_their_names(book: &TestDatabase) {
    let rate = |id, name: &str, ppm| TaxRate {
        id,
        name: name.into(),
        ppm,
    };
    let (full, none) = (rate(1, "VAT 20 %", 200_000), rate(2, "exempt", 0));
    book.put(|tx| {
        tx.save_tax_rate(&none)?;
        tx.save_tax_rate(&full)
    });
    assert_eq!(book.get(|tx| tx.tax_rates()), [full, none.clone()]);
    // The same name: another share, under the old number.
    book.put(|tx| tx.save_tax_rate(&rate(9, "VAT 20 %", 210_000)));
    assert_eq!(
        book.get(|tx| tx.tax_rates()),
        [rate(1, "VAT 20 %", 210_000), none.clone()]
    );
    for set in [
        "name = ''",
        "ppm = -1",
        "ppm = 1000000001",
        "name = 'exempt'",
    ] {
        crate::rules::refused(book, &format!("UPDATE tax_rates SET {set} WHERE id = 1"));
    }
    assert!(book.put(|tx| tx.delete_tax_rate("VAT 20 %")));
    assert!(!book.put(|tx| tx.delete_tax_rate("VAT 20 %")), "it is gone");
    assert_eq!(book.get(|tx| tx.tax_rates()), [none]);
}

pub fn usual_operations_are_found_whatever_their_capitals(book: &TestDatabase) {
    let operation = |name: &str, kind: WorkKind, minutes| UsualOperation {
        name: name.into(),
        kind,
        minutes,
        billable: kind != WorkKind::Admin,
    };
    for (number, kind) in WorkKind::ALL.iter().enumerate() {
        let usual = operation(&format!("Ärmel {number}"), *kind, 45);
        book.put(|tx| tx.save_usual_operation(&usual));
        assert_eq!(
            book.get(|tx| tx.usual_operation(&format!("ärmel {number}"))),
            Some(usual)
        );
    }
    // The same name in other capitals is the same operation, spelled as it was last.
    let again = operation("ÄRMEL 0", WorkKind::Pressing, 1);
    book.put(|tx| tx.save_usual_operation(&again));
    assert_eq!(
        book.get(|tx| tx.usual_operations()).len(),
        WorkKind::ALL.len()
    );
    assert_eq!(
        book.get(|tx| tx.usual_operations()).first(),
        Some(&again),
        "by name"
    );
    assert!(book.put(|tx| tx.delete_usual_operation("Ärmel 0")));
    assert!(
        !book.put(|tx| tx.delete_usual_operation("Ärmel 0")),
        "it is gone"
    );
    assert_eq!(book.get(|tx| tx.usual_operation("ärmel 0")), None);
    for set in [
        "name = ''",
        "name_search = ''",
        "kind = 'magic'",
        "minutes = 0",
        "minutes = 10000001",
    ] {
        crate::rules::refused(
            book,
            &format!("UPDATE usual_operations SET {set} WHERE minutes = 45"),
        );
    }
}

pub fn suppliers_are_listed_by_name(book: &TestDatabase) {
    let (weaver, stall) = (supplier(1, "Weaver"), supplier(2, "Harbour Cloth Stall"));
    book.put(|tx| {
        tx.save_supplier(&weaver)?;
        tx.save_supplier(&stall)
    });
    assert_eq!(
        book.get(|tx| tx.suppliers()),
        vec![stall.clone(), weaver.clone()]
    );
    let renamed = Supplier {
        name: "A Weaver".into(),
        note: "closed on Mondays".into(),
        ..weaver
    };
    book.put(|tx| tx.save_supplier(&renamed));
    assert_eq!(book.get(|tx| tx.suppliers()), vec![renamed.clone(), stall]);
    assert_eq!(book.get(|tx| tx.supplier(1)), Some(renamed.clone()));
    assert_eq!(book.get(|tx| tx.supplier(3)), None);
    assert_eq!(book.get(|tx| tx.supplier_named("A Weaver")), Some(renamed));
    assert_eq!(
        book.get(|tx| tx.supplier_named("Weaver")),
        None,
        "the old name"
    );
}

pub fn customers_are_listed_by_name(book: &TestDatabase) {
    let (bo, ada) = (customer(1, "Bo"), customer(2, "Ada"));
    book.put(|tx| {
        tx.save_customer(&bo)?;
        tx.save_customer(&ada)
    });
    assert_eq!(book.get(|tx| tx.customers()), vec![ada.clone(), bo.clone()]);
    let renamed = ellwand_storage::Customer {
        name: "Abo".into(),
        note: "pays late".into(),
        ..bo
    };
    book.put(|tx| tx.save_customer(&renamed));
    assert_eq!(book.get(|tx| tx.customers()), vec![renamed.clone(), ada]);
    assert_eq!(book.get(|tx| tx.customer(1)), Some(renamed.clone()));
    assert_eq!(book.get(|tx| tx.customer(3)), None);
    assert_eq!(book.get(|tx| tx.customer_named("Abo")), Some(renamed));
    assert_eq!(book.get(|tx| tx.customer_named("Bo")), None, "the old name");
}

pub fn names_that_a_customer_had_are_remembered(book: &TestDatabase) {
    book.put(|tx| {
        tx.save_customer(&customer(1, "Abo"))?;
        tx.save_customer(&customer(2, "Cy"))?;
        for name in ["Bo", "Ada", "Bo"] {
            tx.remember_name(1, name)?;
        }
        tx.remember_name(2, "Bo")
    });
    assert_eq!(
        book.get(|tx| tx.former_names(1)),
        ["Ada", "Bo"],
        "each once"
    );
    book.put(|tx| tx.forget_names(1));
    assert_eq!(book.get(|tx| tx.former_names(1)), [""; 0]);
    assert_eq!(book.get(|tx| tx.former_names(2)), ["Bo"]);
    for (customer_id, name) in [(2, ""), (2, "Bo"), (9, "Bo")] {
        let insert = format!("INSERT INTO former_names VALUES ({customer_id}, '{name}')");
        crate::rules::refused(book, &insert);
    }
}
