//! A purchase that is logged twice.

use crate::Workshop;

const WOOL: &str = "--line 'material=wool,kind=cloth,paid=4m,price=80.00,full-width=150cm'";

/// The same file, whatever else is said with it; the file of a purchase that was taken back is new.
#[test]
fn the_same_file_is_asked_about() {
    let workshop = Workshop::new();
    let file = "ab".repeat(32);
    let again = format!("buy --file-sha256 {file} --invoice 18 {WOOL}");
    workshop.all(&[&format!("buy --file-sha256 {file} {WOOL}")]);
    workshop
        .run(&again)
        .refused(1, &["this file was logged as P1", "--really"]);
    workshop
        .run(&format!("{again} --check"))
        .refused(1, &["this file was logged as P1"]);
    workshop.all(&[&format!("buy --file-sha256 {} {WOOL}", "cd".repeat(32))]);
    workshop.all(&[
        &format!("{again} --really"),
        "undo --yes",
        "undo B2 --yes",
        "undo B1 --yes",
        &again,
    ]);
    workshop
        .run(&format!("buy --file-sha256 xyz {WOOL}"))
        .refused(1, &["64 hexadecimal digits"]);
    workshop.audit();
}

/// The same supplier, number and sum; another of the three is another invoice.
#[test]
fn the_same_invoice_is_asked_about() {
    let workshop = Workshop::new();
    let buy = |supplier: &str, invoice: &str, price: &str| {
        let line = WOOL.replace("80.00", price);
        format!("buy --supplier {supplier} --invoice {invoice} {line}")
    };
    workshop.all(&[&buy("Stall", "17", "80.00")]);
    workshop
        .run(&buy("Stall", "17", "80.00"))
        .refused(1, &["this invoice, to the same sum, was logged as P1"]);
    for other in [
        ("Quay", "17", "80.00"),
        ("Stall", "18", "80.00"),
        ("Stall", "17", "81.00"),
    ] {
        workshop.all(&[&buy(other.0, other.1, other.2)]);
    }
    workshop.audit();
}
