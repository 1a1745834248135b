//! Thread of one lot insisted on: what it costs.

use crate::stories::two_lots;
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
