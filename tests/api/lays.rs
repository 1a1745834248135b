//! Kept lays over HTTP: laid, kept, shown and drawn.

use crate::{
    access::{locked, signed, token},
    app::TestApp,
};
use actix_web::test::TestRequest;
use ellwand_domain::setting::Role;
use serde_json::{Value, json};
use uuid::Uuid;

/// Two crowns of 30 × 20 cm beside one another take 40 cm of the width: 30 cm.
async fn planned(app: &TestApp) -> Value {
    let need = json!({"role": "shell", "kind": "cloth", "grain": "lengthwise", "preparation": "none",
        "part": [{"name": "crown", "count": 2, "length": "30cm", "width": "20cm"}]});
    let plan = json!({"id": Uuid::now_v7(), "name": "cap", "need": [need]});
    let reply = app.post("/v1/garments", plan).await;
    assert_eq!(reply.status, 201, "{}", reply.body);
    let laid = app.get("/v1/garments/G1/lay?width=60cm&draft=true").await;
    laid.body["draft"].clone()
}

#[actix_web::test]
async fn a_lay_is_kept_shown_and_drawn() {
    let app = TestApp::new();
    let draft = planned(&app).await;
    let rungs = json!([{"usable_um": 400_000, "placements": [
        {"part": 0, "turn": 0, "flipped": false, "at_um": [0, 0]},
        {"part": 0, "turn": 0, "flipped": false, "at_um": [0, 200_000]}
    ]}]);
    assert_eq!(draft["rungs"], rungs);
    assert_eq!(
        (&draft["format"], &draft["ways"]),
        (&json!(1), &json!("one"))
    );
    let keep = json!({"id": Uuid::now_v7(), "draft": draft});
    let kept = app.post("/v1/garments/G1/lays", keep.clone()).await;
    assert_eq!(kept.status, 201, "{}", kept.body);
    let rungs = json!([{"usable_m": "0.4", "length_m": "0.3"}]);
    assert_eq!(
        (&kept.body["lay"], &kept.body["rungs"]),
        (&json!("Y1"), &rungs)
    );
    let again = app.post("/v1/garments/G1/lays", keep).await;
    assert_eq!(again.header("ellwand-repeated"), Some("true"));
    let shown = app.get("/v1/lays/Y1").await.body;
    assert_eq!(
        (&shown["lay"], &shown["length_m"], &shown["rungs"]),
        (&json!("Y1"), &json!("0.3"), &rungs)
    );
    let (status, headers, svg) = app.bytes(TestRequest::get().uri("/v1/lays/Y1.svg")).await;
    let svg = String::from_utf8(svg).unwrap();
    assert_eq!(
        (
            status,
            headers.get("content-type").unwrap().to_str().unwrap()
        ),
        (200, "image/svg+xml")
    );
    assert!(
        svg.starts_with("<svg") && svg.matches("<polygon").count() == 2,
        "{svg}"
    );
    // A code that is none, and one that is not there.
    for (uri, status) in [
        ("/v1/lays/G1.svg", 422),
        ("/v1/lays/Y2.svg", 404),
        ("/v1/lays/Y2", 404),
    ] {
        assert_eq!(app.get(uri).await.status, status, "{uri}");
    }
    let posted = app.post("/v1/lays/Y1.svg", json!({})).await;
    assert_eq!(posted.status, 405);
}

#[actix_web::test]
async fn who_has_no_token_sees_no_picture_and_a_viewer_does() {
    let app = locked();
    assert_eq!(app.get("/v1/lays/Y1.svg").await.status, 401);
    let viewer = token(&app, "vi", Role::Viewer, &[]);
    let asked = signed(TestRequest::get().uri("/v1/lays/Y1.svg"), viewer.expose());
    assert_eq!(app.send(asked).await.status, 404);
}
