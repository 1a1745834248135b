//! A book that was tampered with is found out by the audit, which names the record.

use crate::book::TestBook;
use diesel::{Connection, SqliteConnection, connection::SimpleConnection};
use ellwand_contract::{
    audit::RunAudit,
    cuts::Cut,
    garments::PlanGarment,
    lays::{GetLay, KeepLay},
    purchases::Buy,
    reservations::Reserve,
    workshop::SetWorkshop,
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
    book.ask::<PlanGarment>(json!({"name": "dress", "count": 2, "need": need}))
        .unwrap();
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks}))
        .unwrap();
    book.ask::<Cut>(json!({"garment": "G1", "need": "shell", "amount": "1m"}))
        .unwrap();
    book.ask::<Cut>(json!({"garment": "G1", "need": "thread", "piece": "L2.1", "amount": "100m"}))
        .unwrap();
    let cap = json!({"name": "cap", "need": [{"role": "shell", "kind": "cloth", "grain": "lengthwise", "preparation": "none",
        "part": [{"name": "crown", "count": 2, "length": "30cm", "width": "20cm"}]}]});
    book.ask::<PlanGarment>(cap).unwrap();
    let laid = book.ask::<GetLay>(json!({"garment": "G2", "width": "60cm", "draft": true}));
    let draft = laid.unwrap().draft.unwrap();
    book.ask::<KeepLay>(json!({"garment": "G2", "draft": draft}))
        .unwrap();
    book.audit();
    book
}

#[test]
fn every_kind_of_tampering_is_found() {
    let cases = [
        (
            "UPDATE pieces SET quantity = quantity - 1 WHERE id = 1",
            1,
            "L1.1",
        ),
        (
            "UPDATE pieces SET value = value + 1 WHERE id = 1",
            1,
            "L1.1",
        ),
        ("UPDATE pieces SET held = held - 1 WHERE id = 1", 3, "L1.1"),
        (
            "UPDATE stretches SET held = held - 1 WHERE piece_id = 1",
            3,
            "L1.1 stretch 1",
        ),
        (
            "UPDATE reservations SET held = held + 1 WHERE id = 1",
            3,
            "L1.1 stretch 1",
        ),
        (
            "UPDATE movements SET value = value + 1 WHERE from_kind = 'piece' AND from_id = 1",
            1,
            "L1.1",
        ),
        (
            "DELETE FROM movements WHERE from_kind = 'piece' AND from_id = 1",
            1,
            "L1.1",
        ),
        ("UPDATE layers SET quantity = quantity + 1", 1, "cost of L2"),
        ("UPDATE layers SET value = value - 1", 1, "cost of L2"),
        // Nothing but the replay of the layer finds a cost that is not its share.
        (
            "UPDATE movements SET value = value + 1 WHERE from_kind = 'layer'; UPDATE layers SET value = value - 1",
            4,
            "cost of L2",
        ),
        (
            "UPDATE counters SET next_number = 1 WHERE kind = 'lot'",
            1,
            "counter of lot",
        ),
        (
            "DELETE FROM counters WHERE kind = 'booking'",
            1,
            "counter of booking",
        ),
        ("UPDATE lots SET next_piece = 1 WHERE id = 1", 1, "L1"),
        (
            "UPDATE purchases SET home_value = home_value + 10000",
            2,
            "P1",
        ),
        (
            "UPDATE purchase_lines SET landed = landed + 1 WHERE lot_id = 1",
            2,
            "P1",
        ),
        ("UPDATE layers SET value = value - 1", 2, "the whole book"),
        (
            "UPDATE movements SET value = value + 1 WHERE to_kind = 'garment' AND from_kind = 'piece'",
            2,
            "the whole book",
        ),
        (
            "UPDATE month_totals SET value = value + 1",
            1,
            "month 2026-10",
        ),
        ("DELETE FROM month_totals", 1, "month 2026-10"),
        (
            "UPDATE month_totals SET value = value + 1 WHERE whole_year",
            1,
            "year 2026",
        ),
        (
            "UPDATE month_stock SET quantity = quantity - 1 WHERE whole_year",
            1,
            "year 2026",
        ),
        (
            "UPDATE month_stock SET quantity = quantity - 1",
            1,
            "month 2026-10",
        ),
        (
            "UPDATE movements SET to_id = 99 WHERE to_kind = 'garment'",
            1,
            "movement",
        ),
        (
            "DROP TRIGGER lay_rungs_never_change_update; UPDATE lay_rungs SET length_um = length_um - 1",
            8,
            "Y1",
        ),
        (
            "DROP TRIGGER lay_rungs_never_change_update; UPDATE lay_rungs SET placements = replace(placements, 'false', 'true')",
            8,
            "Y1",
        ),
        (
            "DROP TRIGGER lays_never_change_update; UPDATE lays SET laid = replace(laid, '200000', '300000')",
            8,
            "Y1",
        ),
        (
            "PRAGMA foreign_keys = OFF; DROP TRIGGER cuts_never_change_update; UPDATE cuts SET need_id = 9",
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
        let found = findings
            .iter()
            .any(|finding| finding.rule == rule && finding.record.starts_with(record));
        assert!(found, "{sql}: {findings:?}");
        assert!(findings.iter().all(|finding| !finding.detail.is_empty()));
    }
}

/// Ninety of two hundred buttons were taken at the average of two purchases; then the first one was taken back by hand, in every
/// record that keeps a sum.
#[test]
fn a_purchase_taken_back_under_an_average_is_found() {
    let book = TestBook::sqlite();
    book.ask::<SetWorkshop>(json!({"pooled_method": "average"}))
        .unwrap();
    for price in ["100.00", "1000.00"] {
        let button = json!({"kind": "trim", "name": "button", "unit": "count"});
        book.ask::<Buy>(json!({"line": [{"material": button, "paid": "100", "price": price}]}))
            .unwrap();
    }
    let need = json!([{"role": "button", "kind": "trim", "count": 90, "mixing": true}]);
    book.ask::<PlanGarment>(json!({"name": "coat", "need": need}))
        .unwrap();
    book.ask::<Cut>(json!({"garment": "G1", "need": "button", "piece": "L2.1", "amount": "90"}))
        .unwrap();
    book.audit();
    let mut connection = SqliteConnection::establish(&book.file()).unwrap();
    connection
        .batch_execute(
            "DROP TRIGGER movements_rest_on_what_stands; PRAGMA ignore_check_constraints = ON; \
             INSERT INTO bookings (id, kind, summary, on_date, booked_at, person_id, undoes, detail, request_id) \
             SELECT 6, 'undone', 'by hand', on_date, booked_at, person_id, 2, detail, request_id FROM bookings WHERE id = 2; \
             INSERT INTO movements (booking_id, from_kind, from_id, to_kind, to_id, quantity_out, quantity_in, value) \
             SELECT 6, to_kind, to_id, from_kind, from_id, quantity_in, quantity_out, value FROM movements WHERE booking_id = 2; \
             UPDATE counters SET next_number = 7 WHERE kind = 'booking'; \
             INSERT INTO month_totals SELECT whole_year, first, 'trim', 'count', to_kind, from_kind, SUM(quantity_in), \
             SUM(quantity_out), SUM(value) FROM movements, (SELECT 0 AS whole_year, '2026-10-01' AS first UNION SELECT 1, '2026-01-01') \
             WHERE booking_id = 2 GROUP BY whole_year, first, to_kind, from_kind; \
             UPDATE month_stock SET quantity = quantity - 100; \
             UPDATE layers SET quantity = 10, value = 505000000; UPDATE pieces SET quantity = 0, longest_free = 0 WHERE lot_id = 1; \
             DELETE FROM stretches WHERE piece_id = 1; \
             UPDATE purchases SET home_value = 0 WHERE id = 1; UPDATE purchase_lines SET landed = 0 WHERE purchase_id = 1; \
             UPDATE lots SET landed = 0 WHERE id = 1;",
        )
        .unwrap();
    drop(connection);
    let findings = book.ask::<RunAudit>(json!({})).unwrap().findings;
    let [finding] = findings.as_slice() else {
        panic!("{findings:?}")
    };
    assert_eq!((finding.rule, finding.record.as_str()), (4, "cost 1"));
    assert_eq!(
        finding.detail,
        "B5: its cost depends on a booking that B6 undid"
    );
}
