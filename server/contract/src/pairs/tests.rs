//! Pairs on their own, and read by the flags of needs and operations.

use super::{Pairs, PairsError, parse_args};
use crate::garments::{NeedInput, OperationInput};
use ellwand_domain::{
    setting::{Grain, Kind, WorkKind},
    shrinkage::Preparation,
};

fn keys() -> Vec<String> {
    ["material", "paid", "price", "note", "full-width"]
        .map(str::to_owned)
        .to_vec()
}

fn read(text: &str) -> Result<Vec<(String, String)>, String> {
    Pairs::parse(text, &keys())
        .sound()
        .map(|pairs| pairs.pairs)
        .map_err(|error| error.to_string())
}

fn pairs(list: &[(&str, &str)]) -> Vec<(String, String)> {
    list.iter()
        .map(|(key, value)| ((*key).to_owned(), (*value).to_owned()))
        .collect()
}

#[test]
fn values_may_hold_spaces_and_commas() {
    let expected = pairs(&[
        ("material", "navy wool"),
        ("note", "soft, heavy"),
        ("paid", "2,5m"),
    ]);
    assert_eq!(
        read("material=navy wool, note=soft, heavy,paid=2,5m"),
        Ok(expected)
    );
}

#[test]
fn quotes_hold_what_looks_like_a_pair_and_inches_are_no_quotes() {
    let expected = pairs(&[("note", "a,paid=b"), ("full-width", "60\""), ("price", "1")]);
    assert_eq!(
        read("note=\"a,paid=b\",full_width=60\",price=1"),
        Ok(expected)
    );
}

#[test]
fn an_unknown_key_is_refused_with_the_nearest_or_the_known_ones() {
    let refused = |text: &str| read(text).expect_err("no key");
    for (typed, meant) in [
        ("pirce", "price"),
        ("width", "full-width"),
        ("fullwidth", "full-width"),
        ("matrial", "material"),
    ] {
        assert_eq!(
            refused(&format!("material=wool,{typed}=3")),
            format!("\"{typed}\" is not a key here; did you mean {meant}?")
        );
    }
    assert_eq!(
        refused("material=wool,xyz=3"),
        "\"xyz\" is not a key here; the keys are material, paid, price, note, full-width"
    );
}

/// Whoever corrects one slip wants to see the next before the next try.
#[test]
fn all_slips_are_found_at_once_and_a_key_that_was_meant_is_not_missing() {
    let refused =
        parse_args::<NeedInput>("rol=shell,kind=cloth,lenght=60cm,width=140,grain=biased,count=x");
    let error = refused.expect_err("six slips");
    assert_eq!(
        error.slips(),
        [
            "\"rol\" is not a key here; did you mean role?",
            "\"lenght\" is not a key here; did you mean length?",
            "width: \"140\" needs a unit, for example 140cm",
            "count: \"x\" is not a whole number of pieces, for example 6 or 6 pcs",
            "grain: \"biased\" is not a grain; did you mean bias?",
        ]
    );
    let missing = parse_args::<OperationInput>("name=hem").expect_err("no kind");
    assert_eq!(
        missing.slips(),
        [
            "kind is missing, for example kind=hand",
            "planned is missing, for example planned=2h30"
        ]
    );
}

#[test]
fn a_key_twice_no_pair_no_value_and_an_open_quote_are_refused() {
    assert_eq!(
        read("paid=1m,paid=2m").expect_err("twice"),
        "paid is given twice"
    );
    assert!(
        read("wool")
            .expect_err("no pair")
            .starts_with("\"wool\" is not key=value")
    );
    assert_eq!(read("paid=").expect_err("empty"), "paid has no value");
    assert!(
        read("note=\"open")
            .expect_err("open")
            .starts_with("a quote is not closed")
    );
    assert!(read("").is_err());
}

#[test]
fn a_column_may_be_empty_but_not_unknown() {
    let read = Pairs::from_columns([("Full width", "150cm"), ("paid", " ")], &keys())
        .expect("known columns");
    assert_eq!(read.pairs, pairs(&[("full-width", "150cm")]));
    assert!(Pairs::from_columns([("width", "150cm")], &keys()).is_err());
}

fn operation(text: &str) -> Result<OperationInput, PairsError> {
    super::parse_args(text)
}

fn need(text: &str) -> Result<NeedInput, String> {
    super::parse_args::<NeedInput>(text).map_err(|error| error.to_string())
}

fn operation_error(text: &str) -> String {
    operation(text)
        .map(|read| read.name)
        .expect_err("a faulty operation")
        .to_string()
}

#[test]
fn a_need_for_cloth_is_read_with_its_conditions() {
    let need = need(
        "role=shell,kind=cloth,length=2 3/4 yd,width=140cm,preparation=washed x3,same-lot-as=g4,mass-min=200gsm,\
         longest-part=78cm,mixing=yes,match=yes,grain=bias",
    )
    .expect("a need");
    assert_eq!(
        (need.role.as_str(), need.kind),
        ("shell", Some(Kind::Cloth))
    );
    assert_eq!(
        (need.length.as_deref(), need.width.as_deref()),
        (Some("2 3/4 yd"), Some("140cm"))
    );
    assert_eq!(need.preparation, Some(Preparation::Washed { times: 3 }));
    assert_eq!(
        need.same_lot_as.map(|code| code.to_string()).as_deref(),
        Some("G4")
    );
    assert_eq!(
        (need.mixing, need.one_length, need.grain),
        (true, false, Some(Grain::Bias))
    );
    assert!(need.match_repeat);
    assert_eq!(
        (need.mass_min.as_deref(), need.mass_max),
        (Some("200gsm"), None)
    );
}

#[test]
fn a_need_may_be_a_table_of_lengths_by_width() {
    let need = need("role=shell,kind=cloth,widths=90cm:3.90m / 140cm:2.60m").expect("a need");
    let rows: Vec<_> = need
        .widths
        .iter()
        .map(|row| (row.width.value().get(), row.length.value().get()))
        .collect();
    assert_eq!(rows, [(900_000, 3_900_000), (1_400_000, 2_600_000)]);
    // Fractions of a yard have a stroke of their own: 36 in, 54 in; 4 yd, 2 3/4 yd.
    for text in [
        "36in:4yd / 54in:2 3/4yd",
        "36in:4yd/54in:2 3/4yd",
        "35 1/2 in:4yd / 54in:2 3/4 yd",
    ] {
        let need = super::parse_args::<NeedInput>(&format!("role=shell,kind=cloth,widths={text}"))
            .expect(text);
        let rows: Vec<_> = need
            .widths
            .iter()
            .map(|row| row.length.value().get())
            .collect();
        assert_eq!(rows, [3_657_600, 2_514_600], "{text}");
    }
}

#[test]
fn buttons_are_counted() {
    assert_eq!(
        need("role=buttons,kind=trim,count=7")
            .expect("a need")
            .count,
        Some(7)
    );
    let set = need("role=buttons,kind=trim,count=6,size=24L,colour=brown,matching=yes,spares=1")
        .expect("a need");
    assert_eq!(
        (set.size.as_deref(), set.colour.as_deref()),
        (Some("24L"), Some("brown"))
    );
    assert_eq!((set.matching, set.spares), (true, Some(1)));
    assert!(
        need("role=buttons,size=24")
            .expect_err("no unit")
            .starts_with("size: \"24\" needs a unit")
    );
    assert!(
        need("role=buttons,kind=trim,count=7.5")
            .expect_err("half a button")
            .starts_with("count: ")
    );
}

#[test]
fn a_need_that_cannot_be_read_names_the_key() {
    let fault = |text| need(text).expect_err("a faulty need");
    assert_eq!(
        fault("kind=cloth"),
        "role is missing, for example role=shell"
    );
    assert!(fault("role=shell,length=2.60").starts_with("length: \"2.60\" needs a unit"));
    assert!(fault("role=shell,mass-min=200").starts_with("mass-min: \"200\" needs a unit"));
    assert!(
        fault("role=shell,kind=cheese").starts_with("kind: \"cheese\" is not a kind of material")
    );
    assert!(fault("role=shell,weight=blue").starts_with("\"weight\" is not a key here"));
    assert!(fault("role=shell,widths=140cm").starts_with("widths: \"140cm\" is not width:length"));
    assert!(fault("role=shell,mixing=perhaps").starts_with("mixing: "));
}

#[test]
fn an_operation_is_read() {
    let sewing = operation("name=sewing,kind=hand,planned=9h,person=stitcher,billable=no")
        .expect("an operation");
    assert_eq!(
        (sewing.name.as_str(), sewing.kind),
        ("sewing", WorkKind::Hand)
    );
    assert_eq!(
        (sewing.planned.value().get(), sewing.billable),
        (540, false)
    );
    assert!(
        operation("name=sewing,kind=hand,planned=9h")
            .expect("an operation")
            .billable
    );
}

#[test]
fn an_operation_that_cannot_be_read_names_what_is_missing() {
    assert!(
        operation_error("name=sewing,kind=hand")
            .ends_with("planned is missing, for example planned=2h30")
    );
    assert!(
        operation_error("name=sewing,planned=9h")
            .ends_with("kind is missing, for example kind=hand")
    );
    assert!(
        operation_error("name=sewing,kind=hand,planned=9")
            .starts_with("planned: \"9\" needs a unit")
    );
}

fn fault(text: &str) -> String {
    crate::seams::parse_named_seam(text)
        .expect_err("a faulty seam")
        .to_string()
}

#[test]
fn a_seam_is_read_as_it_was_typed() {
    let seam = crate::seams::parse_named_seam(
        "name=side seam,length=62cm,count=2,stitch=301,per-cm=4.5,thickness=0.8mm,needle=thread,under=bobbin",
    )
    .expect("a seam");
    assert_eq!(
        (seam.name.as_str(), seam.stitch.as_str(), seam.count),
        ("side seam", "301", 2)
    );
    assert_eq!(
        (seam.per_cm.as_deref(), seam.thickness.as_deref()),
        (Some("4.5"), Some("0.8mm"))
    );
    assert_eq!(
        (seam.needle.as_deref(), seam.under.as_deref()),
        (Some("thread"), Some("bobbin"))
    );
    assert_eq!(
        super::parse_args::<crate::seams::SeamInput>("stitch=back")
            .expect("a seam")
            .count,
        1
    );
}

#[test]
fn a_seam_that_cannot_be_read_names_the_key() {
    assert!(fault("stitch=301").contains("name is missing, for example name=side seam"));
    assert!(fault("name=hem").contains("stitch is missing, for example stitch=301"));
    assert!(
        fault("name=hem,stitch=330").starts_with("stitch: 330 is not a stitch type of ISO 4915")
    );
    assert!(fault("name=hem,stitch=301,thickness=1").starts_with("thickness: \"1\" needs a unit"));
    assert!(fault("name=hem,stitch=301,thickness=-1mm").contains("must not be negative"));
    assert!(
        fault("name=hem,stitch=301,per-cm=0").starts_with("per-cm: \"0\" must be more than zero")
    );
    assert!(fault("name=hem,stitch=301,length=1m,looper=red").contains("is not a key here"));
}

#[test]
fn a_need_is_read_as_it_was_written() {
    for text in [
        "role=buttons,kind=trim,count=6,size=24L,colour=brown,matching=yes,spares=1",
        "role=tape,kind=trim,length=1.20m,material=M3,mixing=yes,estimate=2.00,detail=\"waistband, inside\"",
        "role=zip,kind=trim,count=1,lot=L4,size=55cm",
    ] {
        assert_eq!(
            super::write::<NeedInput>(&super::parse_args::<NeedInput>(text).expect(text)),
            text
        );
    }
}
