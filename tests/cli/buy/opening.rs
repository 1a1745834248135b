//! `ellwand buy --opening` and `--check`: a full cupboard from one file.

use crate::Workshop;
use std::fs;

/// Fifty cloths of 2.00 m at 10.00 each, every fifth at an estimated value, the last without a price: 490.00 (derived).
#[test]
fn fifty_cloths_are_one_file_and_one_command() {
    let workshop = Workshop::new();
    let mut file = "material,kind,measured,price,full-width,place\n".to_owned();
    for number in 1..=50 {
        let price = match number {
            50 => "",
            number if number % 5 == 0 => "about 10.00",
            _ => "10.00",
        };
        file.push_str(&format!(
            "cloth {number},cloth,2m,{price},140cm,A{number}\n"
        ));
    }
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("shelf.csv");
    fs::write(&path, file).unwrap();
    let line = format!("buy --opening --file '{}'", path.display());
    let before = workshop.dump();
    let checked = workshop.run(&format!("{line} --check")).done().err;
    assert!(
        checked.contains("Nothing was booked. It would log 50 lots as opening stock")
            && checked.contains("worth 490.00 EUR, 1 without a price, 9 at an estimated value."),
        "{checked}"
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&[&line]);
    assert!(
        workshop
            .run("buy list")
            .done()
            .out
            .contains("opening stock")
    );
    assert!(
        workshop
            .run("shelf")
            .done()
            .err
            .contains("1 piece has no price")
    );
    workshop
        .run(&line)
        .refused(1, &["this file was logged as P1"]);
    workshop.audit();
}

/// Of fifty lots the one that is priced is shown.
#[test]
fn the_price_of_a_lot_shows_that_lot() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --opening --line 'material=linen,kind=cloth,measured=4m,price=40,full-width=150cm' \
             --line 'material=silk,kind=cloth,measured=1m,price=unknown,full-width=90cm'",
    ]);
    let priced = workshop.run("lot price L2 9.00").done();
    assert!(
        priced.out.contains("silk") && !priced.out.contains("linen"),
        "{}",
        priced.out
    );
    assert!(priced.err.contains("now costs 9.00 EUR"), "{}", priced.err);
}

/// A kind that is none and a price that is none stand beside a new material without a kind and cloth without its width, in the order
/// of the file; nothing is booked.
#[test]
fn everything_that_is_wrong_with_a_file_is_told_at_once() {
    let workshop = Workshop::new();
    let folder = tempfile::TempDir::new().unwrap();
    let path = folder.path().join("shelf.csv");
    fs::write(
        &path,
        "material,kind,measured,price,full-width\n\
         silk,cloth,2m,10.00,\n\
         felt,clth,2m,10.00,140cm\n\
         lawn,cloth,2m,ten,140cm\n\
         wool,,2m,10.00,140cm\n\
         linen,cloth,2m,10.00,140cm\n",
    )
    .unwrap();
    let before = workshop.dump();
    let line = format!("buy --opening --check --file '{}'", path.display());
    let refused = workshop.run(&line);
    assert_eq!(refused.code, 2, "{refused:?}");
    let told: Vec<usize> = ["line 2:", "line 3:", "line 4:", "line 5:"]
        .iter()
        .map(|line| {
            refused
                .err
                .find(line)
                .unwrap_or_else(|| panic!("{line}: {refused:?}"))
        })
        .collect();
    assert!(told.is_sorted(), "{refused:?}");
    for says in [
        "need their full width",
        "\"clth\"",
        "\"ten\"",
        "needs a kind",
    ] {
        assert!(refused.err.contains(says), "no {says}: {refused:?}");
    }
    assert!(!refused.err.contains("line 6"), "{refused:?}");
    assert_eq!(workshop.dump(), before);
}
