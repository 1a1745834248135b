//! `ellwand quote print`: the head of the sheet, and letters that it does not have.

use crate::Workshop;
use serde_json::{Value, json};

const NAMED: &str =
    "workshop set --name 'Slipway Workshop' --address '3 Slip Lane' --address '2450 Smallport'";

fn quoted() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan coat --for 'Ada Brandt' --operation 'name=sewing,kind=hand,planned=1h'",
        "quote make G1 --price 120",
    ]);
    workshop
}

#[test]
fn a_quotation_begins_with_who_it_is_from_and_keeps_that() {
    let workshop = quoted();
    let sender = |line: &str| workshop.json(line)["sheet"]["sender"].clone();
    assert_eq!(sender("quote show Q1"), Value::Null);
    let without = workshop.run("quote show Q1").done().out;
    assert!(
        without.starts_with("Q1, version 1"),
        "no empty heading: {without}"
    );

    let set = workshop.run(NAMED).done().out;
    assert!(
        set.contains("Slipway Workshop") && set.contains("3 Slip Lane, 2450 Smallport"),
        "{set}"
    );
    assert_eq!(
        sender("quote show Q1"),
        Value::Null,
        "the version is frozen"
    );
    let head = |name: &str| {
        json!({
            "name": name, "address": ["3 Slip Lane", "2450 Smallport"],
            "telephone": null, "tax_number": null, "account": null, "logo": null
        })
    };
    let named = head("Slipway Workshop");
    assert_eq!(sender("quote again Q1"), named);
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.starts_with("Slipway Workshop\n3 Slip Lane\n2450 Smallport\n\nQ1, version 2"),
        "{shown}"
    );

    workshop.all(&[
        "workshop set --name 'Mole and Rat'",
        "quote make G1 --price 5",
    ]);
    let renamed = head("Mole and Rat");
    assert_eq!(
        (sender("quote show Q1"), sender("quote show Q2")),
        (named, renamed)
    );
    workshop.all(&[
        "workshop set --name '' --address ''",
        "quote make G1 --price 5",
    ]);
    assert_eq!(sender("quote show Q3"), Value::Null);
    let settings = workshop.json("workshop");
    assert_eq!(
        (&settings["sender"]["name"], &settings["sender"]["address"]),
        (&Value::Null, &json!([]))
    );
    workshop.audit();
}

#[test]
fn a_heading_that_does_not_fit_a_sheet_is_refused() {
    let workshop = quoted();
    workshop.all(&[NAMED]);
    let lines: String = (1..=9)
        .map(|line| format!(" --address 'line {line}'"))
        .collect();
    let long = "x".repeat(201);
    for (line, words) in [
        (
            lines,
            "an address of 9 lines leaves no room for the quotation; 8 is the most",
        ),
        (format!(" --name {long}"), "longer than 200 letters"),
        (format!(" --address {long}"), "longer than 200 letters"),
        (" --name 'Mole\u{7}'".to_owned(), "control characters"),
    ] {
        workshop
            .run(&format!("workshop set{line}"))
            .refused(1, &[words]);
        assert_eq!(
            workshop.json("workshop")["sender"]["name"],
            "Slipway Workshop",
            "{words}"
        );
    }
}

#[test]
fn letters_that_a_pdf_does_not_have_are_reported() {
    let workshop = quoted();
    let folder = tempfile::TempDir::new().unwrap();
    let print = |name: &str| {
        let pdf = folder.path().join(name);
        let (yes, pdf) = ("--yes", pdf.display().to_string());
        workshop
            .run(&format!("quote print Q1 --pdf '{pdf}' {yes}"))
            .done()
            .err
    };
    workshop.all(&["workshop set --name 'Łucja Dvořáková'", "quote again Q1"]);
    assert!(!print("plain.pdf").contains("warning"), "these it has");
    workshop.all(&["workshop set --name '布 & Ж'", "quote again Q1"]);
    let report = print("cloth.pdf");
    assert!(
        report.contains("warning: the PDF's font has no 布: empty frames stand there"),
        "{report}"
    );
}

/// By its name, whatever lot it is of; what the price rests on stays inside.
#[test]
fn the_sheet_says_what_it_is_made_of_and_when_it_comes() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=grey wool,kind=cloth,paid=4m,price=188,full-width=150cm,shrinkage=4%/2%' \
             --line 'material=thread,kind=thread,paid=100m,price=5'",
        "garment plan coat --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=washed' \
             --need 'role=seams,kind=thread,length=50m'",
        "workshop set --telephone '0555 12' --tax-number 'XX 99' --account 'Savings 34'",
        "quote make G1 --margin 35% --description 'long coat' --delivery 2026-12-18 \
             --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%' \
             --with 'shell=70.00/m,width=150cm,shrinkage=3%/1%' \
             --with 'shell=9.00/m,width=150cm,shrinkage=3%/1%,called=Tweed'",
    ]);
    let made = workshop.json("quote show Q1");
    let parts = |sheet: &Value| sheet["made_of"].clone();
    assert_eq!(
        parts(&made["sheet"]),
        json!([{"role": "shell", "material": "grey wool"}])
    );
    let materials: Vec<Value> = made["options"]
        .as_array()
        .unwrap()
        .iter()
        .map(|option| parts(&option["sheet"])[0]["material"].clone())
        .collect();
    assert_eq!(
        materials,
        [
            json!("cloth to be bought"),
            json!("cloth to be bought 2"),
            json!("Tweed")
        ]
    );
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("sheet.html");
    workshop.all(&[&format!("quote print Q1 --html '{}' --yes", path.display())]);
    let page = std::fs::read_to_string(path).unwrap();
    for text in [
        "long coat",
        "18 December 2026",
        "Telephone 0555 12",
        "Tax number XX 99",
        "Account: Savings 34",
        "grey wool",
    ] {
        assert!(page.contains(text), "{text}: {page}");
    }
    assert!(!page.contains("64.00") && !page.contains("L1"), "{page}");
    // The head and the words are those of the day; a new version keeps what is not said anew.
    workshop.all(&["workshop set --telephone '' --account 'Savings 35'"]);
    let again = workshop.json("quote again Q1 --no-options --delivery 2026-12-24");
    assert_eq!(
        (
            &again["sheet"]["description"],
            &again["sheet"]["delivery"],
            &again["sheet"]["sender"]["account"]
        ),
        (
            &json!("long coat"),
            &json!("2026-12-24"),
            &json!("Savings 35")
        )
    );
    assert_eq!(
        made["sheet"],
        workshop.json("quote show Q1 --version 1")["sheet"]
    );
    let delivery = json!({"text": "Delivery", "before": "2026-12-18", "now": "2026-12-24"});
    assert!(
        again["changes"].as_array().unwrap().contains(&delivery),
        "{}",
        again["changes"]
    );
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.contains(", delivery 2026-12-24\nlong coat\nmade of: shell grey wool\n"),
        "{shown}"
    );
    workshop.audit();
}

/// Words of a workshop in Denmark (from memory), with its marks and its order of dates.
const DANISH: &str = "language = \"da\"\ndecimal_mark = \",\"\ngroup_mark = \".\"\ndate = \"{day}.{month}.{year}\"\n\
                      quotation = \"Tilbud\"\nto_be_paid = \"I alt\"\nreceipt = \"Kvittering\"\nstill_to_pay = \"Rest\"\n";

#[test]
fn sheets_are_in_the_words_of_their_day() {
    let workshop = quoted();
    let folder = tempfile::TempDir::new().unwrap();
    let file = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        path.display().to_string()
    };
    let printed = |line: &str| {
        let path = folder.path().join("sheet.html");
        workshop.all(&[&format!("{line} --html '{}' --yes", path.display())]);
        std::fs::read_to_string(path).unwrap()
    };
    let before = printed("quote print Q1");
    let danish = file("da.toml", DANISH);
    let set = workshop.run(&format!("quote words '{danish}'")).done().err;
    assert!(set.contains("Set 8 of "), "{set}");
    assert_eq!(printed("quote print Q1"), before, "the version is frozen");
    workshop.all(&["quote make G1 --price 1234.50 --valid-until 2026-12-24"]);
    let page = printed("quote print Q2");
    for text in [
        "lang=\"da\"",
        "Tilbud Q2",
        "I alt",
        "1.234,50",
        "24.12.2026",
    ] {
        assert!(page.contains(text), "{text}: {page}");
    }
    // What is printed as a file sets the same; a slip sets nothing.
    let starter = workshop.run("quote words").done().out;
    assert!(starter.contains("\nquotation = \"Tilbud\"\n"), "{starter}");
    let words = || workshop.json("workshop")["words"].clone();
    let own = words();
    workshop.all(&[&format!("quote words '{}'", file("again.toml", &starter))]);
    assert_eq!(words(), own);
    let slips = file("slips.toml", "quotatoin = \"Tilbud\"\ngroup_mark = \".\"\n");
    workshop.run(&format!("quote words '{slips}'")).refused(
        2,
        &[
            "line 1: there is no label quotatoin; did you mean quotation?",
            "line 2: ",
        ],
    );
    assert_eq!(words(), own);
    // A receipt is in the words of what was accepted.
    workshop.all(&["quote accept Q2 --version 1", "quote pay Q2 1000"]);
    let receipt = printed("quote receipt Q2");
    for text in ["Kvittering B", "1.000,00", "Rest", "234,50"] {
        assert!(receipt.contains(text), "{text}: {receipt}");
    }
    // The same words were set twice, which booked nothing the second time.
    workshop.all(&["undo --yes"; 3]);
    assert_eq!(words(), own);
    workshop.all(&["undo --yes"]);
    assert_eq!(words(), json!({}));
    workshop.audit();
}

#[test]
fn a_receipt_is_for_the_latest_payment_or_the_one_that_is_named() {
    let workshop = quoted();
    workshop.all(&["quote accept Q1 --version 1"]);
    workshop
        .run("quote receipt Q1")
        .refused(2, &["nothing is paid on Q1", "ellwand quote pay Q1"]);
    workshop.all(&[
        "quote pay Q1 40",
        "quote pay Q1 30 --cash --date 2026-10-11",
    ]);
    let latest = workshop.run("quote receipt Q1").done().out;
    assert!(
        latest.contains("received 30.00 EUR in cash on 2026-10-11\npaid 70.00 of 120.00 EUR with it, 50.00 still to be paid"),
        "{latest}"
    );
    let first = workshop.json("quote receipt Q1 --payment 1");
    assert_eq!(
        (&first["amount"], &first["paid"], &first["left"]),
        (&json!("40.00"), &json!("40.00"), &json!("80.00"))
    );
    for number in ["0", "3"] {
        let line = format!("quote receipt Q1 --payment {number}");
        assert_eq!(workshop.run(&line).code, 2, "{line}");
    }
}

const MARK: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40 20\"><g transform=\"translate(1 1)\">\
                    <path d=\"M0 0h38v18h-38z\" fill=\"#246\"/><circle cx=\"9\" cy=\"9\" r=\"6\" fill=\"none\" stroke=\"red\"/></g></svg>";

/// One black pixel, and its colour alone (RFC 2083; written with another program).
const PIXEL: &[u8] = &[
    137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13, 73, 72, 68, 82, 0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0,
    0, 0, 58, 126, 155, 85, 0, 0, 0, 10, 73, 68, 65, 84, 120, 156, 99, 96, 0, 0, 0, 2, 0, 1, 72,
    175, 164, 113, 0, 0, 0, 0, 73, 69, 78, 68, 174, 66, 96, 130,
];

#[test]
fn a_logo_stands_at_the_head_and_is_frozen_with_it() {
    let workshop = quoted();
    let folder = tempfile::TempDir::new().unwrap();
    let file = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path.display().to_string()
    };
    let printed = |code: &str| {
        let [page, drawn] = ["sheet.html", "sheet.pdf"].map(|name| folder.path().join(name));
        let (html, pdf) = (page.display(), drawn.display());
        workshop.all(&[&format!(
            "quote print {code} --html '{html}' --pdf '{pdf}' --yes"
        )]);
        (
            std::fs::read_to_string(page).unwrap(),
            std::fs::read(drawn).unwrap(),
        )
    };
    let (bare, plain) = printed("Q1");
    assert!(!bare.contains("<img"), "{bare}");
    let set = |path: &str| workshop.run(&format!("workshop set --logo '{path}'"));
    let shown = set(&file("mark.svg", MARK.as_bytes())).done().out;
    assert!(
        shown.contains("logo") && shown.contains("picture 1"),
        "{shown}"
    );
    workshop.all(&["quote again Q1"]);
    let (page, drawn) = printed("Q1");
    assert!(page.contains("src=\"data:image/svg+xml;base64,"), "{page}");
    assert_ne!(drawn, plain);
    let _ = set(&file("pixel.png", PIXEL)).done();
    workshop.all(&["quote make G1 --price 5"]);
    assert!(printed("Q2").0.contains("src=\"data:image/png;base64,"));
    assert_eq!(printed("Q1").0, page, "the version is frozen");
    // The same picture is kept once.
    let _ = set(&file("same.svg", MARK.as_bytes())).done();
    assert_eq!(workshop.json("workshop")["sender"]["logo"], 1);
    for (name, content, slip) in [
        (
            "script.svg",
            MARK.replace("<path", "<script/><path"),
            "<script>",
        ),
        (
            "entity.svg",
            format!("<!DOCTYPE svg [<!ENTITY a \"b\">]>{MARK}"),
            "DTD",
        ),
        (
            "load.svg",
            MARK.replace("#246", "url(http://example.org/a)"),
            "fill",
        ),
        (
            "letter.txt",
            "Dear Sir".to_owned(),
            "neither a PNG nor an SVG",
        ),
        (
            "broken.png",
            "\u{89}PNG".to_owned(),
            "neither a PNG nor an SVG",
        ),
    ] {
        set(&file(name, content.as_bytes())).refused(1, &[slip]);
    }
    set(&file("cut.png", &PIXEL[..40])).refused(1, &["the PNG cannot be read"]);
    set("nowhere.png").refused(2, &["nowhere.png cannot be read"]);
    assert_eq!(workshop.json("workshop")["sender"]["logo"], 1);
    workshop.all(&["workshop set --logo ''"]);
    assert_eq!(workshop.json("workshop")["sender"]["logo"], Value::Null);
    workshop.audit();
}
