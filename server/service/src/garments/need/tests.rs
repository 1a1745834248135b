use super::{NeedRecord, build, parts};
use crate::desk::failure::Failure;
use ellwand_contract::garments::NeedInput;
use ellwand_domain::{need::PlannedNeed, setting::Kind};
use ellwand_storage::Need;
use proptest::{prelude::*, sample::select};
use serde_json::{Value, json};

/// What is made of a request whose names the book knows, written and read again.
fn stored(input: &NeedInput) -> Result<NeedRecord, String> {
    let kind = input.kind.unwrap_or(Kind::Cloth);
    let plan = build::planned(input, kind).map_err(|failure| match failure {
        Failure::Refused(problem) => {
            format!("{}: {}", problem.field.unwrap_or_default(), problem.detail)
        }
        Failure::Storage(error) => error.to_string(),
    })?;
    let row = Need {
        id: 1,
        garment_id: 1,
        role: input.role.clone(),
        kind: plan.kind(),
        need: serde_json::to_string(&plan).map_err(|error| error.to_string())?,
        units: plan.units(3),
        estimate: None,
        dropped: false,
        detail: input.detail.clone(),
        same_lot_as: input
            .same_lot_as
            .map(ellwand_domain::code::GarmentCode::get),
    };
    NeedRecord::read(row, 3).map_err(|_| "it cannot be read".to_owned())
}

/// A request as it is once its names are found.
fn request(fields: Value) -> NeedInput {
    let mut input: NeedInput = serde_json::from_value(fields).expect("a request");
    input.role = "shell".to_owned();
    let kind = input.kind.unwrap_or(Kind::Cloth);
    parts::resolve(&mut input, kind);
    input
}

fn refusal(fields: Value) -> String {
    stored(&request(fields)).expect_err("refused")
}

/// Each field alone, as people type it.
fn fields() -> Vec<(&'static str, Value)> {
    let part = json!({"name": "collar", "count": 2, "length": "46 cm", "width": "12cm", "allowance": "1 cm", "grain": "bias"});
    vec![
        ("length", json!("2 3/4 yd")),
        ("width", json!("140 cm")),
        (
            "widths",
            json!([{"width": "90cm", "length": "3.90 m"}, {"width": "140cm", "length": "2.6m"}]),
        ),
        (
            "part",
            json!([part, {"name": "stand", "length": "46cm", "width": "4cm", "cut": "with", "grain": "crosswise"}]),
        ),
        ("count", json!(6)),
        ("spares", json!(1)),
        ("matching", json!(true)),
        ("seams", json!(true)),
        ("reels", json!(4)),
        ("preparation", json!("washed x3")),
        ("material", json!("M7")),
        ("lot", json!("L3")),
        ("same_lot_as", json!("G2")),
        ("fibre", json!("wool")),
        ("mass_min", json!("8 oz/yd2")),
        ("mass_max", json!("400 g/m2")),
        ("longest_part", json!("1.1m")),
        ("mixing", json!(true)),
        ("one_length", json!(true)),
        ("grain", json!("lengthwise")),
        ("stiffness_min", json!("10uNm")),
        ("stiffness_max", json!("20 uNm")),
        ("stiff_like", json!("L7 crosswise")),
        ("fusible", json!(false)),
        ("size", json!("24 L")),
        ("colour", json!(" Dark Green ")),
        ("match", json!(true)),
        ("estimate", json!("12.50")),
        ("detail", json!("pad-stitched collar")),
    ]
}

/// One that is accepted, of each sort.
fn sorts() -> Vec<Value> {
    vec![
        json!({"kind": "cloth", "length": "2 3/4 yd"}),
        json!({"kind": "cloth", "widths": fields()[2].1}),
        json!({"kind": "interlining", "length": "2m", "grain": "lengthwise"}),
        json!({"kind": "interlining", "part": fields()[3].1}),
        json!({"kind": "thread", "length": "200 m"}),
        json!({"kind": "trim", "length": "30in"}),
        json!({"kind": "trim", "count": 6}),
    ]
}

proptest! {
    /// What is accepted comes back as it was typed; what is refused names a field.
    #[test]
    fn a_need_is_asked_for_again_as_it_was(
        mut asked in select(sorts()),
        more in prop::collection::vec(select(fields()), 0..20),
    ) {
        for (name, value) in more {
            let mut with = asked.clone();
            with[name] = value;
            match stored(&request(with.clone())) {
                Ok(_) => asked = with,
                Err(refusal) => prop_assert!(!refusal.starts_with(':'), "{}", refusal),
            }
        }
        let input = request(asked);
        let again = stored(&input).map(|need| need.to_input());
        prop_assert_eq!(again.map(|again| json!(again)), Ok(json!(input)));
    }
}

#[test]
fn every_field_is_kept_with_what_it_is_said_of() {
    for (name, value) in fields() {
        let kept = sorts().into_iter().filter(|of| {
            let mut asked = of.clone();
            asked[name] = value.clone();
            let need = stored(&request(asked));
            need.is_ok_and(|need| {
                serde_json::to_value(need.to_input()).is_ok_and(|input| !input[name].is_null())
            })
        });
        assert!(kept.count() > 0, "{name}");
    }
}

#[test]
fn what_makes_no_sense_together_is_refused() {
    for (fields, why) in [
        (
            json!({"kind": "cloth", "length": "2m", "count": 6}),
            "count: cloth is needed by length; the number of garments belongs to the garment",
        ),
        (
            json!({"kind": "cloth", "length": "2m", "seams": true}),
            "seams: cloth is not taken by seams: thread is",
        ),
        (
            json!({"kind": "thread", "length": "2m", "grain": "bias"}),
            "grain: grain is for cloth and interlining, the need is thread",
        ),
        (
            json!({"kind": "trim", "length": "2m", "count": 6}),
            "count: a trim is counted or measured, not both",
        ),
        (
            json!({"kind": "trim", "length": "2m", "spares": 1}),
            "spares: spares is for trims that are counted; give a count",
        ),
        (
            json!({"kind": "cloth", "widths": fields()[2].1, "part": fields()[3].1}),
            "widths: the need shell has parts; widths cannot stand beside them",
        ),
        (
            json!({"kind": "cloth", "length": "2", "widths": fields()[2].1}),
            "widths: the need has one length and a table of lengths; give one of them",
        ),
        (
            json!({"kind": "cloth", "length": "0m"}),
            "length: \"0m\" must be more than zero",
        ),
        (
            json!({"kind": "cloth", "length": "1m", "longest_part": "1.1m"}),
            "longest_part: the longest part, 1.1m, is longer than the need itself",
        ),
        (
            json!({"kind": "interlining", "length": "1m", "stiffness_min": "10uNm"}),
            "grain: stiffness along the part is asked for, but not which grain runs along it",
        ),
    ] {
        assert_eq!(refusal(fields), why);
    }
}

/// Renaming a field of the request changes nothing of this.
#[test]
fn the_book_keeps_values_beside_what_was_typed() {
    let buttons = json!({"kind": "trim", "count": 6, "spares": 1, "size": "24 L", "lot": "L3"});
    let need = stored(&request(buttons)).expect("buttons");
    let kept = json!({
        "takes": {"counted": {"count": 6, "spares": 1, "matching": false, "trim": {
            "size": {"value": {"across": 15_240, "in_ligne": true}, "text": "24 L"}, "colour": null}}},
        "conditions": {"material": null, "lot": "L3", "fibre": null, "mixing": false},
        "estimate": null,
    });
    assert_eq!(
        serde_json::from_str::<Value>(&need.row.need).ok(),
        Some(kept.clone())
    );
    assert_eq!(
        serde_json::from_value::<PlannedNeed>(kept).ok(),
        Some(need.plan)
    );
}
