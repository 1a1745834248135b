//! Needs that share pieces, served together.

use crate::workshop::Workshop;
use serde_json::Value;

const ANY: &str = "--need 'role=any,kind=cloth,length=2m,width=70cm,preparation=none'";
const COTTON: &str =
    "--need 'role=cotton,kind=cloth,length=2m,width=70cm,preparation=none,material=cotton'";

/// A shelf of two cloths.
fn shelf() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.1m,price=31' \
         --line 'material=cotton,kind=cloth,full-width=150cm,paid=2.1m,price=21'",
    ]);
    workshop
}

/// Of each need: role and the pieces it is promised.
fn promised(workshop: &Workshop) -> Vec<(String, Vec<String>)> {
    let shown = workshop.json("garment show G1");
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let of = |need: &Value| {
        let rows = need["reservations"].as_array().unwrap().iter();
        let rows = rows.filter(|row| row["state"] == "active");
        (
            text(&need["role"]),
            rows.map(|row| text(&row["piece"])).collect(),
        )
    };
    let mut needs: Vec<_> = shown["needs"].as_array().unwrap().iter().map(of).collect();
    needs.sort();
    needs
}

/// By hand: linen 3.1 m, cotton 2.1 m, 2 m of any and 2 m of cotton. With 4 cm for the end each takes 2.04 m, rounded up
/// 2.05 m, and leaves 1.05 m of the linen and 0.05 m of the cotton, of which common practice keeps what has 30 cm.
#[test]
fn the_order_of_the_plan_does_not_decide_what_is_served() {
    for needs in [format!("{ANY} {COTTON}"), format!("{COTTON} {ANY}")] {
        let workshop = shelf();
        workshop.all(&[&format!("garment plan coat {needs}")]);
        let found = workshop.json("candidates G1");
        for need in found["needs"].as_array().unwrap() {
            let note = need["notes"][0].as_str().unwrap();
            let told = [
                "chosen together: ",
                "any from L1.1",
                "cotton from L2.1",
                "least waste",
                "0.05 m of L2.1",
            ];
            for part in told {
                assert!(note.contains(part), "no \"{part}\" in: {note}");
            }
        }
        let said = workshop.run("reserve G1 --all --yes").done();
        assert!(said.out.contains("chosen together: "), "{}", said.out);
        let served = [("any", "L1.1"), ("cotton", "L2.1")];
        let served = served.map(|(role, piece)| (role.to_owned(), vec![piece.to_owned()]));
        assert_eq!(promised(&workshop), served);
        workshop.audit();
        workshop.all(&["undo --yes"]);
        // The same with a quotation.
        let quoted = workshop.run("quote make G1 --markup 20% --reserve").done();
        assert!(
            format!("{}{}", quoted.out, quoted.err).contains("chosen together: "),
            "{}",
            quoted.out
        );
        assert_eq!(promised(&workshop), served);
        workshop.audit();
    }
}

/// Derived: alone each takes the shorter piece, and both can have their way.
#[test]
fn what_each_would_take_alone_is_not_said() {
    let workshop = shelf();
    workshop.all(&[
        "buy --line 'material=silk,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "garment plan coat --need 'role=body,kind=cloth,length=2m,width=70cm,preparation=none,material=silk' \
             --need 'role=sleeves,kind=cloth,length=1m,width=70cm,preparation=none,material=silk'",
    ]);
    let found = workshop.json("candidates G1");
    let notes = found["needs"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|need| need["notes"].as_array().unwrap());
    assert_eq!(notes.count(), 0, "{found}");
    workshop.all(&["reserve G1 --all --yes"]);
    assert_eq!(
        promised(&workshop)
            .iter()
            .filter(|(_, pieces)| *pieces == ["L3.1"])
            .count(),
        2
    );
}

/// Derived: 1.50 m and 4 cm are 1.54 m, 1.55 m by the step; 3.08 m hold two of the one and not of the other.
#[test]
fn rounding_up_refuses_nothing_that_fits_together() {
    let workshop = Workshop::new();
    let need = |role: &str| {
        format!("--need 'role={role},kind=cloth,length=1.50m,width=70cm,preparation=none'")
    };
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.08m,price=31'",
        &format!("garment plan coat {} {}", need("body"), need("lining")),
    ]);
    let free = || workshop.json("lot show L1")["pieces"][0]["free"].clone();
    let before = free();
    let made = workshop.json("reserve G1 --all --yes");
    let held: Vec<&Value> = made["reservations"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["held"]["length_m"])
        .collect();
    assert_eq!(held, ["1.54", "1.54"]);
    let steps = made["reservations"][0]["steps"].to_string();
    assert!(
        !steps.contains("1.55"),
        "what is not held is not in the sum: {steps}"
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(free(), before);
}

/// Derived: 3.1 m serve one of two needs of 2 m; the other is told where it went.
#[test]
fn what_cannot_be_served_beside_the_others_says_who_has_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.1m,price=31'",
        "garment plan coat --need 'role=body,kind=cloth,length=2m,width=70cm,preparation=none' \
             --need 'role=cape,kind=cloth,length=2m,width=70cm,preparation=none'",
    ]);
    workshop
        .run("reserve G1 --all --yes")
        .refused(1, &["for its cape", "other needs: body from L1.1"]);
    assert_eq!(
        workshop.json("candidates G1")["needs"][0]["picks"][0]["piece"],
        "L1.1"
    );
}
