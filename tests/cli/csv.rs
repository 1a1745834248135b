//! Lists as rows for a spreadsheet.

use crate::{Workshop, books::run_in, widths::demo};
use serde_json::Value;

/// Each list with the field of its answer that holds the rows.
const LISTS: &[(&str, &str)] = &[
    ("shelf", "pieces"),
    ("material list", "materials"),
    ("buy list", "purchases"),
    ("garment list", "garments"),
    ("quote list", "quotations"),
    ("history", "bookings"),
    ("supplier list", "suppliers"),
    ("customer list", "customers"),
    ("person list", "people"),
];

#[test]
fn every_list_is_rows_as_many_as_its_answer_has() {
    let folder = tempfile::TempDir::new().unwrap();
    let environment = demo(folder.path());
    for (line, field) in LISTS {
        let json: Value =
            serde_json::from_str(&run_in(&environment, &format!("{line} --json")).done().out)
                .unwrap();
        let expected = json[field].as_array().unwrap();
        let text = run_in(&environment, &format!("{line} --format csv"))
            .done()
            .out;
        let mut reader = ::csv::Reader::from_reader(text.as_bytes());
        let heads = reader.headers().unwrap().clone();
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert_eq!(rows.len(), expected.len(), "{line}");
        // The first column is the first plain field of the answer.
        let first = heads.get(0).unwrap();
        for (row, answer) in rows.iter().zip(expected) {
            let value = &answer[first];
            let value = value
                .as_str()
                .map_or_else(|| value.to_string(), ToOwned::to_owned);
            assert_eq!(row.get(0).unwrap(), value, "{line}");
        }
    }
}

#[test]
fn numbers_are_plain_and_names_are_no_formulas() {
    let workshop = Workshop::new();
    workshop.all(&["buy --supplier '=1+1' --line 'material=linen,kind=cloth,full-width=150cm,paid=2.6m,price=10'"]);
    let list = workshop.run("supplier list --format csv").done().out;
    assert_eq!(list.lines().nth(1), Some("S1,'=1+1,"));
    let shelf = workshop.run("shelf --format csv").done().out;
    assert!(
        shelf.contains(",2.6,") && shelf.contains(",10\r\n"),
        "{shelf}"
    );
    let both = workshop.run("shelf --json --format csv");
    assert!(
        both.code == 2 && both.err.contains("--json cannot be used with --format"),
        "{}",
        both.err
    );
}
