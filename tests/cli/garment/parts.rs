//! `ellwand garment plan --part`: interlining by the parts of its shell, and its stiffness on the cost sheet.

use crate::Workshop;
use crate::stories::parts::{FRONTS, holds, stocked, texts};
use serde_json::json;

#[test]
fn parts_that_make_no_sense_are_refused_with_one_error() {
    let workshop = stocked();
    workshop
        .all(&["garment plan jacket --need 'role=shell,kind=cloth,length=2m,preparation=none'"]);
    let before = workshop.dump();
    let stay = "role=stay,kind=interlining,preparation=none";
    let part = "need=stay,name=belt,length=50cm,width=10cm";
    let cases: &[(&str, &str, u8, &[&str])] = &[
        (
            stay,
            part,
            1,
            &["the part belt has no grain", "grain=lengthwise"],
        ),
        (
            stay,
            &format!("{part},grain=bias"),
            1,
            &["the width of the allowance is missing", "allowance=1cm"],
        ),
        (
            stay,
            &format!("{part},grain=bias,allowance=5cm"),
            1,
            &[
                "10 cm less 2 × 5 cm of seam allowance leaves nothing",
                "cut=with",
            ],
        ),
        (
            stay,
            &format!("{part},grain=bias,measures=without,cut=with"),
            1,
            &["with its seam allowance; the width", "measures=with"],
        ),
        (
            stay,
            "need=stay,name=belt,length=0cm,width=5cm,grain=bias",
            1,
            &["must be more than zero"],
        ),
        (
            stay,
            &format!("{part},grain=bias,count=0"),
            1,
            &["no belt is none"],
        ),
        (
            stay,
            &format!("{part},grain=bias,allowance=-1cm"),
            2,
            &["must not be negative"],
        ),
        (
            &format!("{stay},widths=90cm:1m"),
            &format!("{part},grain=bias,cut=with"),
            1,
            &["widths cannot stand beside them", "a lay of your own"],
        ),
        (
            &format!("{stay},width=90cm"),
            &format!("{part},grain=bias,cut=with"),
            1,
            &["has parts and a width, but no length at that width"],
        ),
        (
            &format!("{stay},longest-part=9cm"),
            &format!("{part},grain=bias"),
            1,
            &["longest part cannot stand beside them"],
        ),
        (
            "role=stay,kind=thread,length=90m",
            &format!("{part},grain=bias"),
            1,
            &["part is for cloth and interlining"],
        ),
        (
            stay,
            &format!("{part},grain=bias,cut=with' --part '{part},grain=bias,cut=with"),
            1,
            &["two parts are called belt"],
        ),
        (
            &format!("{stay},stiffness-min=9uNm"),
            &format!("{part},cut=with"),
            1,
            &["not which grain runs along it"],
        ),
        (
            stay,
            "need=stand,name=belt,length=50cm,width=10cm",
            2,
            &[
                "--part belt belongs to the need stand",
                "--need 'role=stand",
            ],
        ),
        (
            stay,
            "need=stay,name=belt,width=10cm",
            2,
            &["length is missing, for example length=46cm"],
        ),
    ];
    for (need, part, code, parts) in cases {
        workshop
            .run(&format!(
                "garment plan vest --need '{need}' --part '{part}'"
            ))
            .refused(*code, parts);
    }
    workshop
        .run(&format!("garment edit G1 --part '{part}'"))
        .refused(1, &["G1 has no need stay", "a new one needs kind"]);
    assert_eq!(workshop.dump(), before);
    // Too wide for every piece: the candidates say why, with the figures.
    workshop.all(&[&format!(
        "garment edit G1 --need '{stay},grain=crosswise' --part '{},cut=with'",
        part.replace("50cm", "95cm")
    )]);
    let answer = workshop.json("candidates G1 --need stay");
    let because: Vec<_> = answer["needs"][0]["cannot"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one["reason"].as_str().unwrap())
        .collect();
    holds(&because, "90 cm usable, the part belt takes 95 cm");
    assert_eq!(
        answer["needs"][0]["amount"],
        "1 part, 0.095 m²: 0.10 m at 140 cm"
    );
}

#[test]
fn parts_are_edited_copied_estimated_and_taken_back() {
    let workshop = stocked();
    workshop.all(&[
        &format!("garment plan jacket {FRONTS}"),
        "reserve G1 fronts --from L1.1",
    ]);
    // Wider fronts: two do not stand beside one another any more, and the promise follows.
    workshop.all(&[
        "garment edit G1 --need 'role=fronts,kind=interlining,preparation=washed,grain=lengthwise' \
         --part 'need=fronts,name=front,length=50cm,width=48cm,allowance=1cm,count=2'",
    ]);
    let held = |workshop: &Workshop| {
        workshop.json("garment show G1")["needs"][0]["reservations"][0]["held"]["length_m"].clone()
    };
    assert_eq!(held(&workshop), "1.05");
    workshop.all(&["undo B4"]);
    assert_eq!(held(&workshop), "0.55");
    workshop.all(&["garment copy G1 --count 2"]);
    let copy = workshop.json("garment show G2")["needs"][0].clone();
    assert_eq!(
        (&copy["amount"], &copy["units"]),
        (
            &"2 parts, 0.4224 m²: 0.48 m washed at 90 cm".into(),
            &2.into()
        )
    );
    // Without a promise the estimate stands for it, with the length that tells the need.
    workshop.all(&["garment plan vest --need 'role=fronts,kind=interlining,preparation=none,grain=lengthwise,estimate=5' \
         --part 'need=fronts,name=front,length=50cm,width=46cm,allowance=1cm,count=2'"]);
    let line = workshop.json("cost G3")["lines"][0].clone();
    assert_eq!(
        (&line["planned_quantity"], &line["cost"]["planned_printed"]),
        (&"0.48 m".into(), &"5.00".into())
    );
    // An option of a quotation says its parts, too.
    workshop.all(&["quote make G3 --margin 40% --option 'narrow fronts' \
         --option-need 'option=narrow fronts,role=fronts,kind=interlining,preparation=none,grain=lengthwise,estimate=3' \
         --option-part 'option=narrow fronts,need=fronts,name=front,length=50cm,width=20cm,allowance=1cm,count=2'"]);
    let quoted = workshop.json("quote show Q1");
    assert_eq!(quoted["options"][0]["name"], "narrow fronts");
    workshop.run("quote make G3 --margin 40% --option thin --option-part 'option=thin,need=front,name=a,length=5cm,width=5cm'")
        .refused(1, &["the option thin: G3 has no need front", "did you mean fronts?"]);
    workshop.audit();
}

/// The cost sheet says what is known of each interlining that is promised or cut: f-3 of the reference for 11.438, 178.726 and
/// 15.6 times; layers that slip add up (derived).
#[test]
fn the_cost_sheet_says_how_stiff_the_parts_will_be() {
    let workshop = stocked();
    workshop.all(&[
        "lot stiffness L1 --lengthwise 36mm --crosswise 90mm",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,preparation=none,grain=lengthwise' \
         --need 'role=fronts,kind=interlining,preparation=none,grain=lengthwise,length=50cm' \
         --need 'role=collar,kind=interlining,preparation=none,length=20cm' \
         --need 'role=belt,kind=interlining,preparation=none,length=20cm'",
    ]);
    assert_eq!(workshop.json("cost G1")["stiffness"], json!([]));
    workshop.all(&[
        "reserve G1 shell --from L4.1",
        "reserve G1 fronts --from L1.1",
        "reserve G1 collar --from L1.1",
    ]);
    let report = workshop.json("cost G1")["stiffness"].clone();
    assert_eq!(
        (
            &report[0]["need"],
            &report[0]["lot"],
            report.as_array().unwrap().len()
        ),
        (&"fronts".into(), &"L1".into(), 2)
    );
    let fronts = texts(&report[0]["notes"]);
    assert_eq!(
        fronts,
        [
            "stiffness along the part 11.438 µN·m, across it 178.726 µN·m, measured",
            "turned by 90° 15.6 times, on the bias 2.55 times (1.40 to 6.04, computed) as stiff along it",
            "with the shell, L4: 11.438 + 25 = 36.438 µN·m along the part at least, for layers that can slip",
        ]
    );
    assert_eq!(
        texts(&report[1]["notes"]),
        [
            "the need gives no grain along the part, so its stiffness is unknown: set grain in the need"
        ]
    );
    let sheet = workshop.run("cost G1").done().out;
    assert!(
        sheet.contains("fronts, L1: stiffness along the part 11.438 µN·m"),
        "{sheet}"
    );
    // Cut cloth is reported of as well, and what is unknown as unknown.
    workshop.all(&[
        "cut G1 fronts 55cm --from L1.1",
        "reserve G1 belt --from L2.1",
    ]);
    let report = workshop.json("cost G1")["stiffness"].clone();
    assert_eq!(texts(&report[0]["notes"]).len(), 3);
    assert_eq!(
        texts(&report[2]["notes"]),
        [
            "how stiff it is is unknown: measure strips of it: ellwand lot stiffness L2 --lengthwise 62mm,60mm"
        ]
    );
}
