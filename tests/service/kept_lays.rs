//! Kept lays: what is kept, what goes by it, and what it stands in the way of.

use crate::Workshop;
use ellwand_contract::{
    ProblemType,
    lays::{DraftPlacement, DraftRung, GetLay, KeepLay, LayDraft},
};
use serde_json::Value;
use uuid::Uuid;

const PARTS: &str = "--part 'need=shell,name=back,length=72cm,width=52cm' \
    --part 'need=shell,name=front,count=2,length=72cm,width=30cm' \
    --part 'need=shell,name=sleeve,count=2,length=62cm,width=42cm' \
    --part 'need=shell,name=collar,count=2,length=46cm,width=12cm'";

/// Wool of 112 cm between its selvedges, so many metres of it, that is not taken to shrink; a jacket of seven parts.
fn jacket(metres: &str, need: &str) -> Workshop {
    jackets(metres, need, 1)
}

/// The same of a batch.
fn jackets(metres: &str, need: &str, count: u32) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("buy --line 'material=wool,kind=cloth,full-width=118cm,selvedges=6cm,paid={metres},price=100,shrinkage=0%/0%'"),
        &format!("garment plan jacket --count {count} --need 'role=shell,kind=cloth,grain=lengthwise,preparation=washed{need}' {PARTS}"),
    ]);
    workshop
}

/// Parts by their number in the plan, each with its place along and across, in centimetres.
fn rung(usable_mm: i64, places: &[(usize, i64, i64)]) -> DraftRung {
    let placements = places.iter().map(|(part, along, across)| DraftPlacement {
        part: *part,
        turn: 0,
        flipped: false,
        at_um: [along * 10_000, across * 10_000],
    });
    DraftRung {
        usable_um: usable_mm * 1_000,
        placements: placements.collect(),
    }
}

/// Back 0, fronts 1, sleeves 2, collars 3. On 112 cm: 52 + 30 + 30 cm beside one another, 72 cm long; behind them both sleeves, 62 cm,
/// with the collars beside: 134 cm.
fn wide() -> DraftRung {
    rung(
        1_120,
        &[
            (0, 0, 0),
            (1, 0, 52),
            (1, 0, 82),
            (2, 72, 0),
            (2, 72, 42),
            (3, 72, 84),
            (3, 72, 96),
        ],
    )
}

/// On 109 cm: the back, a front and both collars are 106 cm, 72 cm long; then a front beside a sleeve, 72 cm, and a sleeve, 62 cm:
/// 206 cm.
fn narrow() -> DraftRung {
    rung(
        1_090,
        &[
            (0, 0, 0),
            (1, 0, 52),
            (3, 0, 82),
            (3, 0, 94),
            (1, 72, 0),
            (2, 72, 30),
            (2, 144, 0),
        ],
    )
}

fn draft(workshop: &Workshop, rungs: Vec<DraftRung>) -> LayDraft {
    let asked = GetLay {
        garment: "G1".parse().unwrap(),
        need: None,
        piece: None,
        width: Some("112cm".parse().unwrap()),
        draft: true,
    };
    let laid = workshop.ask(asked).done();
    LayDraft {
        rungs,
        ..serde_json::from_value(laid["draft"].clone()).unwrap()
    }
}

fn keeping(draft: LayDraft) -> KeepLay {
    KeepLay {
        id: Uuid::nil(),
        garment: "G1".parse().unwrap(),
        need: None,
        draft,
        note: Some("by the window".to_owned()),
        date: None,
    }
}

/// Both rungs, kept as the next lay.
fn keep(workshop: &Workshop) -> Value {
    let draft = draft(workshop, vec![narrow(), wide()]);
    workshop.ask(keeping(draft)).done()
}

/// What is made wrong of a draft.
type Lie = fn(&mut LayDraft);

fn shell(workshop: &Workshop) -> Value {
    workshop.json("garment show G1")["needs"][0].clone()
}

/// 1.34 m and 4 cm for the ends are 1.38 m: 1.40 m in steps of 5 cm.
#[test]
fn what_is_planned_and_promised_goes_by_it() {
    let workshop = jacket("5m", "");
    let kept = keep(&workshop);
    assert_eq!(kept["lay"], "Y1");
    let rungs = serde_json::json!([
        {"usable_m": "1.12", "length_m": "1.34"},
        {"usable_m": "1.09", "length_m": "2.06"}
    ]);
    assert_eq!(kept["rungs"], rungs);
    let need = shell(&workshop);
    let amount = need["amount"].as_str().unwrap();
    assert!(
        amount.ends_with(": 1.34 m washed at 112 cm by Y1"),
        "{amount}"
    );
    assert_eq!(need["length_by"], "kept");
    let conditions = need["conditions"].as_array().unwrap();
    let line = "kept lay Y1: 1.34 m at 112 cm, 2.06 m at 109 cm";
    assert!(
        conditions.iter().any(|condition| condition == line),
        "{conditions:?}"
    );
    let found = workshop.json("candidates G1");
    let found = &found["needs"][0]["serve"][0];
    assert_eq!(
        (&found["takes"]["length_m"], &found["length_by"]),
        (&"1.4".into(), &"kept".into())
    );
    assert_eq!(found["lay"], "Y1");
    let reserved = workshop.json("reserve G1 shell --from L1.1");
    let promise = &reserved["reservations"][0];
    assert_eq!(
        (&promise["lay"], &promise["length_by"]),
        (&"Y1".into(), &"kept".into())
    );
    assert_eq!(promise["held"]["length_m"], "1.4");
    let steps = promise["steps"].as_array().unwrap();
    let line = "the kept lay Y1 of 1.34 m at 112 cm counts instead of the rows";
    assert!(steps.iter().any(|step| step == line), "{steps:?}");
    workshop.audit();
}

/// Where each part lies is what was sent, at the width that is asked for.
#[test]
fn it_is_shown_as_it_was_kept() {
    let workshop = jacket("5m", "");
    keep(&workshop);
    let text = |lay: &Value, field: &str| lay[field].as_str().unwrap_or_default().to_owned();
    for (line, usable, length) in [
        ("lay Y1", "1.12", "1.34"),
        ("lay G1 --from L1.1", "1.12", "1.34"),
        ("lay Y1 --width 110cm", "1.1", "2.06"),
        ("lay G1 --width 110cm", "1.1", "2.06"),
    ] {
        let lay = workshop.json(line);
        assert_eq!(
            (text(&lay, "usable_m"), text(&lay, "length_m")),
            (usable.into(), length.into()),
            "{line}"
        );
        assert_eq!(
            (text(&lay, "lay"), text(&lay, "length_by")),
            ("Y1".into(), "kept".into()),
            "{line}"
        );
        assert_eq!(lay["parts"].as_array().unwrap().len(), 7);
        assert!(
            lay["notes"]
                .as_array()
                .unwrap()
                .contains(&"by the window".into()),
            "{line}: {lay}"
        );
    }
    // Too narrow for it: as if none were kept.
    assert_ne!(workshop.json("lay G1 --width 108cm")["length_by"], "kept");
    workshop
        .run("lay Y1 --width 108cm")
        .refused(1, &["Y1 is for cloth of 109 cm or more"]);
    workshop.run("lay Y2").refused(1, &["there is no lay Y2"]);
}

/// 2 % of 112 cm are 2.24 cm: 109.76 cm are left, for which the second rung is. 2.06 m and 4 cm are 2.10 m.
#[test]
fn a_narrower_wash_finds_its_rung_where_that_is_free() {
    let washed = "wash done L1.1 --preparation washed --length LONG --width 115.64cm --yes";
    for (metres, rest) in [("5m", "5m"), ("2m", "2m")] {
        let workshop = jacket(metres, "");
        keep(&workshop);
        workshop.all(&["reserve G1 shell --from L1.1"]);
        let done = workshop.json(&washed.replace("LONG", rest));
        let promise = workshop.json("garment promises G1")["reservations"][0].clone();
        if metres == "5m" {
            assert_eq!(
                (&promise["state"], &promise["held"]["length_m"]),
                (&"active".into(), &"2.1".into())
            );
            assert_eq!(
                (&promise["lay"], &promise["washed_width_m"]),
                (&"Y1".into(), &"1.09".into())
            );
            assert!(done["broken"].as_array().unwrap().is_empty(), "{done}");
            let changed = &done["changed"][0];
            assert_eq!(
                (&changed["reservation"], &changed["length_by"]),
                (&"R1".into(), &"kept".into())
            );
        } else {
            assert_eq!(promise["state"], "broken");
            assert_eq!(done["broken"][0]["reservation"], "R1");
        }
        workshop.audit();
        // Taken back, it is as it was.
        workshop.all(&["undo"]);
        let promises = workshop.json("garment promises G1 --state active");
        let promise = &promises["reservations"][0];
        assert_eq!(
            (&promise["held"]["length_m"], &promise["lay"]),
            (&"1.4".into(), &"Y1".into())
        );
        workshop.audit();
    }
}

/// On less than 109 cm nothing of it is left but rows, 72 + 72 + 62 + 46 = 252 cm, and 4 cm: it is never packed. Its own lay goes before
/// those.
#[test]
fn what_rests_on_it_is_never_packed() {
    for (own, held) in [("", "2.6"), (",length=2.40m,width=100cm", "2.45")] {
        let workshop = jacket("5m", own);
        keep(&workshop);
        workshop.all(&[
            "reserve G1 shell --from L1.1",
            "wash done L1.1 --preparation washed --length 5m --width 114cm --yes",
        ]);
        let promise = workshop.json("garment promises G1")["reservations"][0].clone();
        assert_eq!(
            (&promise["held"]["length_m"], &promise["lay"]),
            (&held.into(), &"Y1".into())
        );
        workshop.audit();
    }
}

/// What was promised before keeps its length, whatever is kept since; and what is cut of it is counted by that.
#[test]
fn a_promise_that_was_made_before_keeps_its_length() {
    let workshop = jacket("5m", "");
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let held = |workshop: &Workshop| {
        workshop.json("garment promises G1")["reservations"][0]["held"].clone()
    };
    assert_eq!(held(&workshop)["length_m"], "1.4");
    // A longer one: only the narrow rung.
    let kept = workshop
        .ask(keeping(draft(&workshop, vec![narrow()])))
        .done();
    assert!(kept["notes"][0].as_str().unwrap().contains("R1"), "{kept}");
    workshop.all(&["wash done L1.1 --preparation washed --length 5m --width 118cm --yes"]);
    assert_eq!(held(&workshop)["length_m"], "1.4");
    workshop.all(&["cut G1 shell"]);
    let need = shell(&workshop);
    assert_eq!((&need["units_cut"], &need["units"]), (&1.into(), &1.into()));
    workshop.audit();
}

/// What was cut by a lay stays a whole unit, whatever is kept or edited since.
#[test]
fn what_was_cut_by_it_is_counted_by_it() {
    let workshop = jacket("5m", "");
    keep(&workshop);
    workshop.all(&["wash done L1.1 --preparation washed --length 5m --width 118cm --yes"]);
    // 14 376 cm² of 134 × 112 cm are 95.79 %, of 138 × 112 cm 93.01 %.
    let cut = workshop.json("cut G1 shell 1.38m --from L1.1");
    let used = "by Y1: 95.7 % of its cloth was to be used, 93.0 % of what was cut is";
    assert!(
        cut["notes"].as_array().unwrap().contains(&used.into()),
        "{cut}"
    );
    assert_eq!(shell(&workshop)["units_cut"], 1);
    workshop
        .ask(keeping(draft(&workshop, vec![narrow()])))
        .done();
    assert_eq!(shell(&workshop)["units_cut"], 1);
    workshop
        .run("undo B3")
        .refused(1, &["B5 was cut by the lay Y1", "ellwand undo B5"]);
    let notes = workshop.json("lay Y1")["notes"].to_string();
    assert!(notes.contains("B5 cut 1.38 m by it"), "{notes}");
    workshop.audit();
}

#[test]
fn a_placement_list_that_lies_is_refused() {
    let workshop = jacket("5m", "");
    let before = workshop.dump();
    let lies: [(Lie, &str); 7] = [
        (
            |draft| draft.rungs[0].placements[3].at_um[0] -= 1,
            "sleeve overlap",
        ),
        (
            |draft| draft.rungs[0].placements[2].at_um[1] += 1,
            "front reaches beyond the cloth, which is 112 cm wide",
        ),
        (
            |draft| draft.rungs[0].placements[0].turn = 180,
            "back is turned by 180°",
        ),
        (
            |draft| draft.rungs[0].placements.truncate(6),
            "collar is cut 2 times and lies there 1 times",
        ),
        (
            |draft| draft.rungs[0].placements[0].part = 4,
            "placement 1 is of part 5, and there are 4",
        ),
        (
            |draft| draft.rungs.clear(),
            "a lay is kept for 1 to 8 widths, not 0",
        ),
        (|draft| draft.format = 2, "format 2"),
    ];
    for (lie, words) in lies {
        let mut draft = draft(&workshop, vec![wide()]);
        lie(&mut draft);
        let problem = workshop.ask(keeping(draft)).problem();
        assert_eq!(problem.kind, ProblemType::InvalidValue, "{problem:?}");
        assert!(problem.detail.contains(words), "{words}: {problem:?}");
        assert_eq!(workshop.dump(), before, "{words}");
    }
    // Of other parts than those that are planned: smaller, so that anything would fit.
    let mut other = draft(&workshop, vec![wide()]);
    other.parts[0].corners_um = vec![[0, 0], [10_000, 0], [10_000, 10_000]];
    let problem = workshop.ask(keeping(other)).problem();
    assert_eq!(problem.kind, ProblemType::ChangedMeanwhile, "{problem:?}");
    assert_eq!(workshop.dump(), before);
}

/// After an edit it is of other parts: it can be looked at, and counts for nothing; taken back, it counts again.
#[test]
fn after_an_edit_of_the_parts_it_is_to_be_laid_again() {
    let workshop = jacket("5m", "");
    keep(&workshop);
    let old = draft(&workshop, vec![wide()]);
    workshop.all(&[
        "reserve G1 shell --from L1.1",
        "garment edit G1 --part 'need=shell,name=collar,length=44cm'",
    ]);
    let need = shell(&workshop);
    let conditions = need["conditions"].to_string();
    assert!(
        conditions.contains("kept lay Y1 is of other parts: lay it again"),
        "{conditions}"
    );
    assert_ne!(need["length_by"], "kept");
    let lay = workshop.json("lay Y1");
    assert_eq!(
        (&lay["outdated"], &lay["length_m"]),
        (&true.into(), &"1.34".into())
    );
    assert!(
        lay["notes"]
            .to_string()
            .contains("ellwand lay G1 shell --keep"),
        "{lay}"
    );
    let problem = workshop.ask(keeping(old)).problem();
    assert_eq!(problem.kind, ProblemType::ChangedMeanwhile, "{problem:?}");
    workshop.audit();
    workshop.all(&["undo"]);
    assert_eq!(shell(&workshop)["length_by"], "kept");
    assert_eq!(
        workshop.json("garment promises G1")["reservations"][0]["length_by"],
        "kept"
    );
    workshop.audit();
}

#[test]
fn it_is_not_taken_back_while_a_promise_was_made_by_it() {
    let workshop = jacket("5m", "");
    keep(&workshop);
    workshop.all(&["reserve G1 shell --from L1.1"]);
    workshop
        .run("undo B3")
        .refused(1, &["R1 was promised by the lay Y1", "ellwand release R1"]);
    workshop.all(&["release R1", "undo B3"]);
    assert_ne!(shell(&workshop)["length_by"], "kept");
    let lay = workshop.json("lay Y1");
    assert!(
        lay["notes"].to_string().contains("Y1 was taken back"),
        "{lay}"
    );
    // Made again, the promise is of what is known without it.
    workshop.all(&["undo B5"]);
    let promises = workshop.json("garment promises G1 --state active");
    assert_ne!(promises["reservations"][0]["length_by"], "kept");
    workshop.audit();
    // The code is not used again.
    assert_eq!(keep(&workshop)["lay"], "Y2");
}

/// Of several the shortest that the width is enough for counts, and of two alike the first.
#[test]
fn of_several_the_shortest_counts() {
    let workshop = jacket("5m", "");
    workshop
        .ask(keeping(draft(&workshop, vec![narrow()])))
        .done();
    workshop.ask(keeping(draft(&workshop, vec![wide()]))).done();
    let third = keep(&workshop);
    assert_eq!(
        third["notes"][0],
        "at 112 cm the kept lay Y2 is no longer: 1.34 m counts"
    );
    let by = |width: &str| workshop.json(&format!("lay G1 --width {width}"))["lay"].clone();
    assert_eq!((by("112cm"), by("111cm")), ("Y2".into(), "Y1".into()));
}

/// Three jackets take three lengths by the same lay; laid together they have another.
#[test]
fn a_batch_takes_a_length_each_or_one_lay_of_all() {
    let workshop = jackets("9m", "", 3);
    keep(&workshop);
    workshop.all(&["reserve G1 shell --from L1.1 --count 3"]);
    let promise = workshop.json("garment promises G1")["reservations"][0].clone();
    assert_eq!(
        (&promise["units"], &promise["held"]["length_m"]),
        (&3.into(), &"4.2".into())
    );
    assert_eq!(promise["lay"], "Y1");
    workshop.all(&[
        "release R1",
        "garment edit G1 --need 'role=shell,one-length=yes'",
    ]);
    assert_ne!(shell(&workshop)["length_by"], "kept");
    workshop.all(&["keep G1 --width 112cm", "reserve G1 shell --from L1.1"]);
    let promises = workshop.json("garment promises G1 --state active");
    assert_eq!(promises["reservations"][0]["lay"], "Y2");
    workshop.audit();
}

#[test]
fn what_is_over_is_laid_no_more() {
    let workshop = jacket("5m", "");
    keep(&workshop);
    let draft = draft(&workshop, vec![wide()]);
    workshop.all(&["garment cancel G1"]);
    workshop
        .ask(keeping(draft))
        .refused(1, &["G1 is cancelled"]);
    assert_eq!(workshop.json("lay Y1")["length_m"], "1.34");
    workshop.audit();
}
