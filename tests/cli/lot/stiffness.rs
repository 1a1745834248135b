//! `ellwand lot stiffness`: strip tests and pictures.

use crate::stories::stiffness::stocked;
use serde_json::Value;
use std::fs;

#[test]
fn a_strip_test_is_booked_and_taken_back() {
    let workshop = stocked();
    let before = workshop.dump();
    workshop.all(&[
        "lot stiffness L1 --lengthwise 36mm",
        "lot stiffness L1 --lengthwise 40mm --crosswise 90mm",
    ]);
    let report = workshop.run("history").done().out;
    assert!(
        report.contains("Stiffness of L1 Harbour canvas: 15.691 uNm lengthwise, 178.726 uNm"),
        "{report}"
    );
    // The older one cannot go while the newer stands; a change of the sheet in between is not in the way.
    workshop
        .run("undo B2")
        .refused(1, &["B3 has set the stiffness of L1 since"]);
    workshop.all(&["lot edit L1 --colour grey", "undo B3"]);
    let lot = workshop.json("lot show L1");
    assert_eq!(
        (
            &lot["sheet"]["rigidity_lengthwise_unm"],
            &lot["sheet"]["colour"]
        ),
        (&"11.438".into(), &"grey".into())
    );
    assert_eq!(lot["sheet"]["rigidity_crosswise_unm"], Value::Null);
    workshop.all(&["undo B2"]);
    assert_eq!(
        workshop.json("lot stiffness L1")["grains"],
        serde_json::json!([])
    );
    assert_ne!(workshop.dump(), before);
    workshop.audit();
}

#[test]
fn what_cannot_be_is_refused_with_one_error() {
    let workshop = stocked();
    let before = workshop.dump();
    let cases: &[(&str, u8, &[&str])] = &[
        (
            "L1 --lengthwise 210mm",
            1,
            &["overhang of 210 mm cannot come from a strip of 200 mm"],
        ),
        (
            "L1 --lengthwise 155mm --strip 150mmx25mm",
            1,
            &["155 mm", "strip of 150 mm"],
        ),
        (
            "L1 --lengthwise 62mm --mass 0gsm",
            1,
            &["\"0gsm\" must be more than zero"],
        ),
        (
            "L1 --lengthwise 62mm --thickness -0.4mm",
            1,
            &["\"-0.4mm\" must not be negative"],
        ),
        (
            "L1 --lengthwise 62mm --thickness 0mm",
            1,
            &["must be more than zero"],
        ),
        (
            "L1 --lengthwise 62mm --thickness 40cm",
            1,
            &["thicker than any cloth"],
        ),
        (
            "L1 --lengthwise 62mm --strip 0mmx25mm",
            1,
            &["must be more than zero"],
        ),
        (
            "L1 --lengthwise 62mm:60mm,61mm",
            1,
            &["2 readings and another 1"],
        ),
        (
            "L1 --lengthwise 62mm,6mm",
            1,
            &["6 mm and 62 mm", "more than 20 % apart", "--really"],
        ),
        ("L1 --lengthwise 62mm,11uNm", 1, &["11uNm"]),
        ("L1 --lengthwise 11uNm,12uNm", 1, &["give one figure"]),
        ("L1 --lengthwise 62mm --formula kes", 1, &["not a rigidity"]),
        (
            "L1 --lengthwise 62mm --formula guess",
            2,
            &["half-overhang"],
        ),
        ("L1 --lengthwise 62", 2, &["\"62\" needs a unit"]),
        ("L1 --lengthwise -62mm", 2, &["must not be negative"]),
        (
            "L1 --lengthwise 62mm --date 2026-10-01",
            1,
            &["had not come in"],
        ),
        ("L4 --lengthwise 62mm", 1, &["needs the mass per area too"]),
        ("L1 --mass 120gsm", 2, &["--lengthwise"]),
        (
            "L1 --lengthwise 62mm --svg none.svg",
            2,
            &["cannot be used with"],
        ),
        ("L9", 1, &["L9"]),
        (
            "L4 --svg none.svg",
            1,
            &["stiffness of L4 lengthwise and crosswise is unknown"],
        ),
    ];
    for (line, code, parts) in cases {
        workshop
            .run(&format!("lot stiffness {line}"))
            .refused(*code, parts);
    }
    assert_eq!(workshop.dump(), before);
    workshop.all(&["lot stiffness L1 --lengthwise 62mm,6mm --mass 120gsm --really"]);
}

#[test]
fn the_picture_shows_one_lot_or_two() {
    let workshop = stocked();
    workshop.all(&["lot stiffness L1 --lengthwise 36mm --crosswise 90mm"]);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("one.svg");
    let path = file.display();
    workshop.all(&[&format!("lot stiffness L1 --svg {path} --yes")]);
    let one = fs::read_to_string(&file).unwrap();
    assert!(one.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 400 "));
    for part in [
        "L1 Harbour canvas",
        "rigidity in µN·m",
        "bias 29.142 computed",
        "in 8 cloths of 10",
        ">200<",
    ] {
        assert!(one.contains(part), "{part}");
    }
    workshop
        .run(&format!("lot stiffness L1 --svg {path}"))
        .refused(2, &["is there already", "--yes"]);
    workshop.all(&[&format!("lot stiffness L1 --svg {path} --beside L2 --yes")]);
    let two = fs::read_to_string(&file).unwrap();
    // Distinguished by dashes and by marks, without colour.
    assert!(two.contains("stroke-dasharray=\"7 4\"") && two.contains("L2 Collar felt"));
    assert!(two.contains("<circle cx=\"28.0\"") && two.contains("<rect x=\"24.0\""));
    assert!(!two.contains("in 8 cloths of 10"));
    workshop
        .run(&format!("lot stiffness L1 --svg {path} --beside L4 --yes"))
        .refused(1, &["L4 lengthwise"]);
    assert_eq!(fs::read_to_string(&file).unwrap(), two);
    workshop
        .run("lot stiffness L1 --beside L2")
        .refused(2, &["--svg"]);
}
