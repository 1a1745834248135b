//! What details and options tell, and to whom.

use crate::access::{locked, signed, token};
use actix_web::test::TestRequest;
use ellwand_contract::workshop::SetPayRate;
use ellwand_domain::setting::{Grant, Role};
use ellwand_service::{Caller, Secret};
use serde_json::{Value, json};
use uuid::Uuid;

/// What an hour costs is in what a detail cost and in what is behind an option: it is reported like the cost sheet.
#[actix_web::test]
async fn what_hours_cost_is_reported_of_no_detail_and_of_no_option() {
    let app = locked();
    let owner = token(&app, "owner", Role::Owner, &[]);
    let rate =
        json!({"id": Uuid::now_v7(), "person": "owner", "per_hour": "61.50", "from": "2026-01-01"});
    let rate: SetPayRate = serde_json::from_value(rate).unwrap();
    app.call(&Caller::owner("test"), &rate);
    let post = async |uri: &str, mut body: Value| {
        body["id"] = json!(Uuid::now_v7());
        let reply = app
            .send(signed(
                TestRequest::post().uri(uri).set_json(body),
                owner.expose(),
            ))
            .await;
        assert_eq!(reply.status, 201, "{uri}: {}", reply.body);
    };
    let hem = json!({"name": "hem", "kind": "hand", "planned": "2h", "detail": "hand-rolled hem"});
    post("/v1/garments", json!({"name": "scarf", "operation": [hem]})).await;
    let plain = json!({"name": "plain", "operation": [{"name": "hem", "kind": "machine", "planned": "20min"}]});
    let price = json!({"markup": "30%"});
    post(
        "/v1/quotations",
        json!({"garment": "G1", "price": price, "option": [plain]}),
    )
    .await;
    post(
        "/v1/work",
        json!({"garment": "G1", "operation": "hem", "time": "1h"}),
    )
    .await;
    post("/v1/garments/G1/finish", json!({})).await;
    post(
        "/v1/garments/G1/ratings",
        json!({"detail": "hand-rolled hem", "rating": 3}),
    )
    .await;
    let read = async |uri: &str, secret: &Secret| {
        let reply = app
            .send(signed(TestRequest::get().uri(uri), secret.expose()))
            .await;
        assert_eq!(reply.status, 200, "{uri}: {}", reply.body);
        reply.body
    };
    let maker = token(&app, "mo", Role::Maker, &[]);
    let details = read("/v1/details", &maker).await;
    assert_eq!(
        (
            &details["details"][0]["cost"],
            &details["details"][0]["rated"]
        ),
        (&Value::Null, &json!("3.0"))
    );
    assert_eq!(
        read("/v1/details", &owner).await["details"][0]["cost"]["median"],
        "61.5"
    );
    let quotation = read("/v1/quotations/Q1", &maker).await;
    let option = &quotation["options"][0];
    for concealed in [
        &quotation["inside"],
        &quotation["comparison"],
        &option["inside"],
    ] {
        assert_eq!(*concealed, Value::Null);
    }
    assert!(
        option["sheet"]["gross"].is_string(),
        "the customer's sheet is shown: {option}"
    );
    let quotation = read(
        "/v1/quotations/Q1",
        &token(&app, "bo", Role::Maker, &[Grant::PayRates]),
    )
    .await;
    assert_eq!(quotation["comparison"].as_array().unwrap().len(), 2);
}

/// One promise that is left when a garment is finished is reported as one.
#[actix_web::test]
async fn one_promise_is_not_reported_as_several() {
    let app = crate::app::TestApp::new();
    let post = async |uri: &str, mut body: Value| {
        body["id"] = json!(Uuid::now_v7());
        let reply = app.post(uri, body).await;
        assert_eq!(reply.status, 201, "{uri}: {}", reply.body);
        reply.body
    };
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    post(
        "/v1/purchases",
        json!({"line": [{"material": linen, "paid": "10m", "price": "100"}]}),
    )
    .await;
    let need = |role: &str| json!({"role": role, "kind": "cloth", "length": "1m", "width": "140cm", "preparation": "none"});
    for (garment, roles, report) in [
        ("G1", &["shell"][..], "1 promise that was left is released"),
        (
            "G2",
            &["shell", "lining"],
            "2 promises that were left are released",
        ),
    ] {
        let needs: Vec<Value> = roles.iter().map(|role| need(role)).collect();
        post("/v1/garments", json!({"name": "vest", "need": needs})).await;
        for role in roles {
            let picks = json!([{"need": role, "piece": "L1.1"}]);
            post(
                "/v1/reservations",
                json!({"garment": garment, "picks": picks}),
            )
            .await;
        }
        let finished = post(
            &format!("/v1/garments/{garment}/finish"),
            json!({"really": true}),
        )
        .await;
        assert!(
            finished["notes"]
                .as_array()
                .unwrap()
                .contains(&json!(report)),
            "{}",
            finished["notes"]
        );
    }
}
