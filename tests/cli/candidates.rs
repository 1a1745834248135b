//! `ellwand candidates`: what can serve a need, and what it would cost.

use crate::stories::two_lots;

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
