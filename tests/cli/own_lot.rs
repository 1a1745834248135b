//! Thread of one lot insisted on: what it costs.

use crate::reels::two_lots;
use serde_json::Value;

/// OpenStax, Financial Accounting, 10.2 (specific identification): what is insisted on costs what that lot did. First in, first
/// out otherwise; the average is one for all.
#[test]
fn a_lot_that_is_insisted_on_costs_what_it_did() {
    for (method, first, own) in [("fifo", "1", "2"), ("average", "1.5", "1.5")] {
        let workshop = two_lots(method);
        workshop.all(&[
            "garment plan any --need 'role=thread,kind=thread,length=10m'",
            "garment plan second --need 'role=thread,kind=thread,length=10m,lot=L2'",
            "garment plan like --need 'role=thread,kind=thread,length=10m,same-lot-as=G2'",
        ]);
        let cost = |line: &str| workshop.json(line);
        // From the reel of L2: by the first layer for whom any does, by its own for whom it must be that one.
        assert_eq!(
            cost("cut G1 thread 10m --from L2.1")["cost"],
            first,
            "{method}"
        );
        let insisted = cost("cut G2 thread 10m --from L2.1");
        assert_eq!(
            (&insisted["cost"], &insisted["piece"]["piece"]),
            (&own.into(), &"L2.1".into()),
            "{method}"
        );
        let candidates = workshop.json("candidates G3")["needs"][0]["serve"].clone();
        assert_eq!(
            (&candidates[0]["piece"], &candidates[0]["cost"]),
            (&"L2.1".into(), &own.into()),
            "{method}"
        );
        assert_eq!(
            workshop.json("reserve G3 thread --from L2.1")["reservations"][0]["cost"],
            own,
            "{method}"
        );
        let like = cost("cut G3 thread");
        assert_eq!(like["cost"], own, "{method}");
        let lot = if method == "fifo" {
            Value::from("L2")
        } else {
            Value::Null
        };
        assert_eq!(
            (
                &like["from_layers"][0]["lot"],
                &like["from_layers"][0]["cost"]
            ),
            (&lot, &own.into()),
            "{method}"
        );
        workshop.audit();
        workshop.all(&["undo --yes", "undo --yes"]);
        workshop.audit();
    }
}

/// 90 m were used from the reel of L2 for anyone and cost the layer of L1, which has 10 m left: who insists on L1
/// and takes 30 m pays 10 m of it and 20 m of L2 (derived; costing.md a-15).
#[test]
fn a_layer_that_others_used_up_is_filled_from_the_next() {
    let workshop = two_lots("fifo");
    workshop.all(&[
        "garment plan any --need 'role=thread,kind=thread,length=90m'",
        "garment plan own --need 'role=thread,kind=thread,length=30m,lot=L1'",
        "cut G1 thread 90m --from L2.1",
    ]);
    let own = workshop.json("cut G2 thread 30m --from L1.1");
    assert_eq!(
        (&own["cost"], own["from_layers"].as_array().unwrap().len()),
        (&"5".into(), 2)
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    let shown = workshop.run("cut G2 thread 30m --from L1.1").done().out;
    assert!(
        shown.contains(
            "its cost: 10.00 m of the layer of L1 (1.00 EUR), 20.00 m of the layer of L2 (4.00 EUR)"
        ),
        "{shown}"
    );
    workshop.audit();
}
