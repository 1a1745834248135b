//! What a need takes for so many garments.

use ellwand_domain::{
    need::{
        ClothConditions, ClothLengths, Conditions, Part, PlannedNeed, ShellMeasures, Takes,
        TrimConditions, TypedPart,
    },
    quantity::{AsTyped, Count, Micrometres},
    setting::{Grain, Kind, Measured, PartCut},
};

fn need(takes: Takes) -> PlannedNeed {
    PlannedNeed {
        takes,
        conditions: Conditions::default(),
        estimate: None,
    }
}

fn typed(text: &str) -> AsTyped<Micrometres> {
    text.parse().unwrap()
}

fn joined(one_length: bool) -> ClothConditions {
    ClothConditions {
        one_length,
        ..ClothConditions::NONE
    }
}

/// 2.60 m for each of three, or 7.80 m in one length (by hand).
#[test]
fn cloth_is_a_length_for_each_garment_or_one_for_all() {
    for (one_length, units, length) in [(false, 3, 2_600_000), (true, 1, 7_800_000)] {
        let cloth = need(Takes::Cloth {
            lengths: ClothLengths::One {
                length: typed("2.60m"),
                width: Some(typed("140cm")),
            },
            longest_part: None,
            cloth: joined(one_length),
        });
        let demand = cloth.demand(3).unwrap().unwrap();
        assert_eq!(cloth.units(3), units);
        assert_eq!(demand.by_width()[0].length.get(), length);
        assert_eq!(
            demand.by_width()[0].width,
            Some(Micrometres::from_mm(1_400))
        );
        assert_eq!((cloth.kind(), cloth.per_unit(3)), (Kind::Cloth, Ok(None)));
    }
}

#[test]
fn parts_of_a_batch_are_laid_together_where_that_is_asked_for() {
    let mm = Micrometres::from_mm;
    let shell = ShellMeasures {
        length: mm(460),
        width: mm(120),
        measured: Measured::With,
        allowance: None,
    };
    let part = Part::new("collar", 2, shell, PartCut::With, Grain::Lengthwise).unwrap();
    let parts = vec![TypedPart {
        part,
        length: "46cm".to_owned(),
        width: "12 cm".to_owned(),
        allowance: None,
    }];
    for (one_length, pieces) in [(false, 2), (true, 6)] {
        let collars = need(Takes::Parts {
            own: None,
            parts: parts.clone(),
            cloth: joined(one_length),
        });
        let demand = collars.demand(3).unwrap().unwrap();
        assert_eq!(demand.parts().unwrap().pieces(), pieces);
    }
}

/// 27.37 m × 3 ÷ 4 reels = 20.5275 m of each.
#[test]
fn reels_at_once_share_the_thread_of_the_batch() {
    let thread = |reels| {
        need(Takes::Thread {
            colour: None,
            length: typed("27.37 m"),
            seams: false,
            reels,
        })
    };
    let of = |need: PlannedNeed| {
        let per_unit = need.per_unit(3).unwrap().unwrap().get();
        (
            need.units(3),
            per_unit,
            need.of_one().unwrap().unwrap().get(),
        )
    };
    assert_eq!(of(thread(Some(4))), (4, 20_527_500, 27_370_000));
    assert_eq!(of(thread(None)), (3, 27_370_000, 27_370_000));
    assert!(thread(Some(0)).per_unit(3).is_err());
}

#[test]
fn spares_are_taken_with_the_trims_that_are_sewn_on() {
    let buttons = |spares| {
        need(Takes::Counted {
            count: Count::new(6).unwrap(),
            spares,
            matching: true,
            trim: TrimConditions::NONE,
        })
    };
    let of_one = |need: PlannedNeed| need.of_one().map(|all| all.unwrap().get());
    assert_eq!(of_one(buttons(None)), Ok(6));
    assert_eq!(of_one(buttons(Some(Count::new(1).unwrap()))), Ok(7));
    assert!(of_one(buttons(Some(Count::MAX))).is_err());
    assert_eq!(buttons(None).count(), (Some(6), None));
}
