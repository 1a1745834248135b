//! `garment edit` and `garment copy` with only what differs.

use crate::Workshop;
use serde_json::Value;

/// A shirt with a need of each way to say how much, an operation and two seams.
fn planned() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=poplin,kind=cloth,paid=6m,price=60,full-width=150cm,shrinkage=3%/1%' \
         --line 'material=linen,kind=cloth,paid=6m,price=90,full-width=150cm,shrinkage=5%/2%' \
         --line 'material=canvas,kind=interlining,paid=2m,price=8,full-width=92cm,selvedges=2cm' \
         --line 'material=cotton thread,kind=thread,paid=1000m,price=4'",
        "garment plan shirt --need 'role=shell,kind=cloth,length=2.10m,width=140cm,preparation=washed,grain=lengthwise,lot=L1' \
         --need 'role=canvas,kind=interlining,preparation=none,grain=lengthwise' \
         --part 'need=canvas,name=collar,length=46cm,width=12cm,allowance=1cm' \
         --part 'need=canvas,name=stand,length=44cm,width=5cm,cut=with' \
         --need 'role=thread,kind=thread,seams=yes' \
         --operation 'name=sewing,kind=machine,planned=4h,detail=body' \
         --seam 'name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm' \
         --seam 'name=hem,length=1.20m,stitch=301'",
    ]);
    workshop
}

fn need(shown: &Value, role: &str) -> Value {
    let needs = shown["needs"].as_array().unwrap();
    let found = needs.iter().find(|need| need["role"] == role);
    found.unwrap().clone()
}

#[test]
fn of_a_need_only_what_differs_is_given() {
    let workshop = planned();
    let before = workshop.json("garment show G1");
    // A material stands for its lot; length, width, preparation and grain stay.
    let shown = workshop.json("garment edit G1 --need 'role=Shell,material=linen'");
    let (was, is) = (need(&before, "shell"), need(&shown, "shell"));
    assert_eq!(
        (&is["amount"], &is["grain"]),
        (&was["amount"], &was["grain"])
    );
    assert_eq!(is["amount"], "2.10 m washed at 140 cm");
    let conditions = is["conditions"].to_string();
    assert!(
        conditions.contains("only linen (M2)") && !conditions.contains("L1"),
        "{conditions}"
    );
    // An empty value clears; lengths by width stand for one length.
    let shown = workshop.json(
        "garment edit G1 --need 'role=shell,material=,grain=,widths=90cm:3.90m / 140cm:2.60m'",
    );
    let is = need(&shown, "shell");
    assert_eq!(
        is["amount"],
        "3.90 m washed at 90 cm or 2.60 m washed at 140 cm"
    );
    let conditions = is["conditions"].to_string();
    assert!(
        !conditions.contains("only") && !conditions.contains("grain"),
        "{conditions}"
    );
    // Back again, one after the other.
    workshop.all(&["undo --yes", "undo --yes"]);
    let after = workshop.json("garment show G1");
    assert_eq!(after["needs"], before["needs"]);
    workshop.audit();
}

#[test]
fn parts_operations_and_seams_are_changed_by_their_names() {
    let workshop = planned();
    let before = workshop.json("garment show G1");
    let thread = |shown: &Value| need(shown, "thread")["length_m"].clone();
    // The collar 2 cm longer: less the allowance of 1 cm on both sides 46 cm; the stand stays.
    let shown = workshop.json("garment edit G1 --part 'need=canvas,name=Collar,length=48cm'");
    let parts = need(&shown, "canvas")["parts"].clone();
    assert_eq!(
        (&parts[0]["length_m"], &parts[0]["width_m"]),
        (&"0.46".into(), &"0.1".into())
    );
    assert_eq!(
        (&parts[1]["name"], &parts[1]["length_m"]),
        (&"stand".into(), &"0.44".into())
    );
    // The grain of the need is that of its parts.
    let shown = workshop.json("garment edit G1 --need 'role=canvas,grain=bias'");
    assert_eq!(need(&shown, "canvas")["parts"][1]["grain"], "bias");
    let shown = workshop.json("garment edit G1 --drop-part 'need=canvas,name=stand'");
    assert_eq!(need(&shown, "canvas")["parts"].as_array().unwrap().len(), 1);
    // A new part is whole.
    let shown = workshop
        .json("garment edit G1 --part 'need=canvas,name=tab,length=8cm,width=4cm,cut=with'");
    assert_eq!(need(&shown, "canvas")["parts"][1]["name"], "tab");
    let shown = workshop.json("garment edit G1 --operation 'name=sewing,planned=5h'");
    let sewing = &shown["operations"][0];
    assert_eq!(
        (
            &sewing["planned_minutes"],
            &sewing["kind"],
            &sewing["detail"]
        ),
        (&300.into(), &"machine".into(), &"body".into())
    );
    // Side seams 10 cm longer: the thread follows, the stitch stays.
    let shown = workshop.json("garment edit G1 --seam 'name=side seam,length=72cm'");
    assert_ne!(thread(&shown), thread(&before));
    let seams = workshop.json("garment seams G1");
    let side = &seams["seams"][0]["seam"];
    assert_eq!(
        (
            &side["length"],
            &side["stitch"],
            &side["per_cm"],
            &side["count"]
        ),
        (&"72cm".into(), &"301".into(), &"4".into(), &2.into())
    );
    for _ in 0..6 {
        workshop.all(&["undo --yes"]);
    }
    let after = workshop.json("garment show G1");
    assert_eq!(
        (&after["needs"], &after["operations"], &after["seams"]),
        (&before["needs"], &before["operations"], &before["seams"])
    );
}

#[test]
fn what_the_plan_does_not_have_must_be_whole() {
    let workshop = planned();
    let before = workshop.dump();
    for (line, says) in [
        (
            "--need 'role=shel,length=2m'",
            &[
                "G1 has no need shel",
                "needs kind",
                "did you mean shell?",
                "canvas, thread",
            ][..],
        ),
        (
            "--need 'role=lining,material=poplin'",
            &[
                "no need lining",
                "needs length",
                "G1 has shell, canvas, thread",
            ],
        ),
        ("--need 'role=buttons,kind=trim'", &["needs count"]),
        (
            "--part 'need=canvas,name=tab,length=8cm'",
            &["the canvas has no part tab", "needs width", "collar, stand"],
        ),
        (
            "--drop-part 'need=canvas,name=tab'",
            &["the canvas has no part tab", "collar, stand"],
        ),
        (
            "--operation 'name=seving,planned=5h'",
            &["no operation seving", "needs kind", "did you mean sewing?"],
        ),
        (
            "--operation 'name=sewing,planned='",
            &[
                "sewing cannot be without planned",
                "leave planned out to keep it",
            ],
        ),
        (
            "--seam 'name=cuff,length=30cm'",
            &["no seam cuff", "needs stitch", "side seam, hem"],
        ),
        (
            "--need 'role=shel,length=2m' --drop-need cuff --operation 'name=seving,planned=5h' --drop-operation irn",
            &[
                "no need shel",
                "no need cuff",
                "no operation seving",
                "no operation irn",
            ],
        ),
    ] {
        workshop
            .run(&format!("garment edit G1 {line}"))
            .refused(1, says);
    }
    assert_eq!(workshop.dump(), before);
}

/// Plain cloth of 88.2 g/m² or more needs no test, nor does wool of any mass (16 CFR 1610.1(d)): of a wool coat it is the light
/// cupro of the lining that burns fast.
#[test]
fn a_caution_names_the_cloth_that_it_is_about() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=twill,kind=cloth,fibres=wool 100%,paid=4m,price=40,full-width=150cm,mass=80gsm' \
             --line 'material=pongee,kind=lining,fibres=cupro 100%,paid=4m,price=40,full-width=150cm,mass=88gsm'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none' \
             --need 'role=lining,kind=lining,length=1m,width=140cm,preparation=none'",
        "reserve G1 shell --from L1.1",
    ]);
    let notes = || workshop.json("garment show G1")["notes"].to_string();
    assert_eq!(notes(), "[]");
    workshop.all(&["reserve G1 lining --from L2.1"]);
    assert!(notes().contains("burns fast (L2 pongee)"), "{}", notes());
    workshop.all(&["lot edit L2 --mass 89gsm"]);
    assert_eq!(notes(), "[]");
}

#[test]
fn a_copy_differs_where_it_is_told_to() {
    let workshop = planned();
    let copy = workshop.json(
        "garment copy G1 --count 2 --need 'role=shell,material=linen' --drop-need canvas \
         --operation 'name=sewing,person=owner' --seam 'name=hem,length=1.30m'",
    );
    let shell = need(&copy, "shell");
    assert_eq!(
        (&shell["amount"], &shell["units"]),
        (&"2.10 m washed at 140 cm".into(), &2.into())
    );
    assert!(shell["conditions"].to_string().contains("only linen"));
    assert_eq!(copy["needs"].as_array().unwrap().len(), 2);
    // 4 h for one are 8 h for two.
    assert_eq!(copy["operations"][0]["planned_minutes"], 480);
    workshop.all(&["undo --yes"]);
    workshop
        .run("garment copy G1 --need 'role=lining,length=1m'")
        .refused(1, &["needs kind"]);
    workshop.audit();
}

#[test]
fn a_promise_follows_what_differs() {
    let workshop = planned();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let shown = workshop.json("garment edit G1 --need 'role=shell,length=2.30m'");
    // (2.30 m + 4 cm) ÷ 0.97 = 2.4124 m, up to the step of 5 cm: 2.45 m.
    assert_eq!(
        need(&shown, "shell")["reservations"][0]["held"]["length_m"],
        "2.45"
    );
    let shown = workshop.json("garment edit G1 --need 'role=shell,material=linen'");
    assert_eq!(need(&shown, "shell")["reservations"][0]["state"], "broken");
    workshop.all(&["undo --yes", "undo --yes"]);
    workshop.audit();
}

/// A garment that was planned for stock gets its customer, until it is quoted or cut into.
#[test]
fn a_garment_is_given_to_a_customer_until_something_rests_on_whose_it_is() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none'",
    ]);
    let whose = || workshop.json("garment show G1")["customer"].clone();
    let edited = workshop.json("garment edit G1 --for Ada");
    assert_eq!(edited["customer"], "Ada");
    assert_eq!(
        workshop.json("history B3")["summary"],
        "Changed the plan of G1: for C1."
    );
    workshop.all(&["undo B3 --yes"]);
    assert_eq!(whose(), Value::Null);
    workshop.all(&["garment edit G1 --for Ada", "quote make G1 --price 50"]);
    // Whom it was quoted to it is for, as long as that stands.
    workshop
        .run("undo B5 --yes")
        .refused(1, &["G1 stays with its customer", "quoted as Q1"]);
    workshop.run("garment edit G1 --for Bea").refused(
        1,
        &["G1 stays", "quoted as Q1", "garment copy G1 --for Bea"],
    );
    workshop.all(&["quote close Q1", "garment edit G1 --for Bea"]);
    assert_eq!(whose(), "Bea");
    workshop.all(&["cut G1 base 1m --from L1.1"]);
    workshop
        .run("garment edit G1 --for Ada")
        .refused(1, &["G1 stays", "it is cut into"]);
    workshop
        .run("garment edit G1 --for ' '")
        .refused(1, &["no name"]);
    workshop.audit();
}

/// Cloth that Ada brought is promised to her garment, and not to Bea's.
#[test]
fn a_customers_cloth_does_not_go_along_to_another() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=0,full-width=150cm,owner=Ada'",
        "garment plan bag --for Ada --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none'",
        "reserve G1 base --from L1.1",
        "garment edit G1 --for Bea",
    ]);
    let promise = workshop.json("garment promises G1")["reservations"][0].clone();
    assert_eq!(promise["state"], "broken", "{promise}");
    workshop.audit();
}
