//! Thread by its colour: asked for, never taken in one that nobody named.

use crate::Workshop;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=cotton thread,kind=thread,paid=1000m,price=4,colour=navy' \
         --line 'material=silk thread,kind=thread,paid=500m,price=9,colour=White'",
        "garment plan shirt --need 'role=thread,kind=thread,length=120m'",
    ]);
    workshop
}

#[test]
fn thread_without_a_colour_is_undecided() {
    let workshop = stocked();
    let before = workshop.dump();
    let thread = workshop.json("candidates G1")["needs"][0].clone();
    assert_eq!(
        thread["undecided"],
        "the thread names no colour; what serves is White, navy"
    );
    assert_eq!(
        (
            thread["serve"].as_array().unwrap().len(),
            thread["picks"].as_array().unwrap().len()
        ),
        (2, 0)
    );
    assert_eq!(workshop.dump(), before);
    // Whoever names a reel has named its colour.
    workshop.all(&["reserve G1 thread --from L1.1", "undo --yes"]);
    // Nor does one that names a material leave it open.
    workshop.all(&[
        "garment plan vest --need 'role=thread,kind=thread,length=40m,material=silk thread'",
    ]);
    let vest = workshop.json("candidates G2")["needs"][0].clone();
    assert!(vest["undecided"].is_null());
    assert_eq!(vest["picks"][0]["piece"], "L2.1");
}

#[test]
fn thread_is_taken_in_the_colour_that_it_names() {
    let workshop = stocked();
    workshop.all(&["garment edit G1 --need 'role=thread,colour=white'"]);
    let thread = workshop.json("candidates G1")["needs"][0].clone();
    assert_eq!(thread["picks"][0]["piece"], "L2.1");
    assert_eq!(
        thread["cannot"][0]["reason"],
        "it is navy, the need asks for white"
    );
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["colour"],
        "white"
    );
    workshop
        .run("reserve G1 thread --from L1.1")
        .refused(1, &["it is navy, the need asks for white"]);
    // A copy asks for the same.
    workshop.all(&["reserve G1 thread --from L2.1", "garment copy G1"]);
    assert_eq!(
        workshop.json("candidates G2")["needs"][0]["picks"][0]["piece"],
        "L2.1"
    );
    workshop
        .run("garment plan coat --need 'role=shell,kind=cloth,length=1m,colour=navy'")
        .refused(1, &["colour is for thread and trims, the need is cloth"]);
    workshop.audit();
}

#[test]
fn a_promise_of_thread_decides_the_rest_of_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=overlock thread,kind=thread,paid=3 reels,reel-length=1000m,price=9,colour=navy'",
        "garment plan shirt --need 'role=overlock thread,kind=thread,length=120m,reels=3'",
    ]);
    assert!(workshop.json("candidates G1")["needs"][0]["undecided"].is_string());
    workshop.all(&["reserve G1 'overlock thread' --from L1.1"]);
    let thread = workshop.json("candidates G1")["needs"][0].clone();
    assert!(thread["undecided"].is_null());
    assert_eq!(thread["picks"].as_array().unwrap().len(), 2);
}
