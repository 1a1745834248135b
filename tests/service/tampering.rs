//! A book that was tampered with is found out by the audit, which names the record.

use crate::book::TestBook;
use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
use ellwand_contract::{
    audit::RunAudit, cuts::Cut, garments::PlanGarment, purchases::Buy, reservations::Reserve,
};
use serde_json::json;

fn healthy() -> TestBook {
    let book = TestBook::sqlite();
    book.ask::<Buy>(json!({"line": [
        {"material": {"kind": "cloth", "name": "linen", "full_width": "150cm"}, "paid": "4m", "price": "40"},
        {"material": {"kind": "thread", "name": "thread"}, "paid": "500m", "price": "4.50"},
    ]}))
    .unwrap();
    let need = json!([
        {"role": "shell", "kind": "cloth", "length": "1m", "width": "140cm", "preparation": "none"},
        {"role": "thread", "kind": "thread", "length": "100m"},
    ]);
    book.ask::<PlanGarment>(json!({"name": "dress", "count": 2, "need": need})).unwrap();
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks})).unwrap();
    book.ask::<Cut>(json!({"garment": "G1", "need": "shell", "amount": "1m"})).unwrap();
    book.ask::<Cut>(json!({"garment": "G1", "need": "thread", "piece": "L2.1", "amount": "100m"})).unwrap();
    book.audit();
    book
}

#[test]
fn every_kind_of_tampering_is_found() {
    let cases = [
        ("UPDATE pieces SET quantity = quantity - 1 WHERE id = 1", 1, "L1.1"),
        ("UPDATE pieces SET value = value + 1 WHERE id = 1", 1, "L1.1"),
        ("UPDATE pieces SET held = held - 1 WHERE id = 1", 3, "L1.1"),
        ("UPDATE stretches SET held = held - 1 WHERE piece_id = 1", 3, "L1.1 stretch 1"),
        ("UPDATE reservations SET held = held + 1 WHERE id = 1", 3, "L1.1 stretch 1"),
        ("UPDATE movements SET value = value + 1 WHERE from_kind = 'piece' AND from_id = 1", 1, "L1.1"),
        ("DELETE FROM movements WHERE from_kind = 'piece' AND from_id = 1", 1, "L1.1"),
        ("UPDATE layers SET quantity = quantity + 1", 1, "cost layer of L2"),
        ("UPDATE layers SET value = value - 1", 1, "cost layer of L2"),
        ("UPDATE purchases SET home_value = home_value + 10000", 2, "P1"),
        ("UPDATE purchase_lines SET landed = landed + 1 WHERE lot_id = 1", 2, "P1"),
        ("UPDATE layers SET value = value - 1", 2, "the whole book"),
        (
            "UPDATE movements SET value = value + 1 WHERE to_kind = 'garment' AND from_kind = 'piece'",
            2,
            "the whole book",
        ),
        ("UPDATE movements SET to_id = 99 WHERE to_kind = 'garment'", 1, "movement"),
        (
            "PRAGMA foreign_keys = OFF; DROP TRIGGER reservations_set_stays_update; \
             UPDATE reservations SET set_id = 9 WHERE id = 1",
            3,
            "R1",
        ),
    ];
    for (sql, rule, record) in cases {
        let book = healthy();
        let mut connection = SqliteConnection::establish(&book.file()).unwrap();
        connection
            .batch_execute(
                "DROP TRIGGER movements_never_change_update; DROP TRIGGER movements_never_change_delete; \
                 PRAGMA ignore_check_constraints = ON;",
            )
            .unwrap();
        connection.batch_execute(sql).unwrap();
        drop(connection);
        let findings = book.ask::<RunAudit>(json!({})).unwrap().findings;
        let found = findings.iter().any(|finding| finding.rule == rule && finding.record.starts_with(record));
        assert!(found, "{sql}: {findings:?}");
        assert!(findings.iter().all(|finding| !finding.detail.is_empty()));
    }
}
