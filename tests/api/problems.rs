//! Requests that cannot be read: each gives one clear problem and changes nothing.

use crate::app::{Reply, TestApp, open};
use actix_web::test::TestRequest;
use ellwand_server::Config;
use serde_json::{Value, json};

const ID: &str = "0192f0c8-5c00-7000-8000-000000000001";

fn place() -> TestRequest {
    TestRequest::post().uri("/v1/pieces/L1.1/place")
}

async fn place_with(app: &TestApp, body: &str) -> Reply {
    app.send(
        place()
            .insert_header(("content-type", "application/json"))
            .set_payload(body.to_owned()),
    )
    .await
}

#[track_caller]
fn assert_detail(reply: &Reply, words: &str) {
    let detail = reply.body["detail"].as_str().unwrap();
    assert!(detail.contains(words), "{detail:?} does not say {words:?}");
}

#[actix_web::test]
async fn a_body_that_is_not_json_is_refused() {
    let app = TestApp::new();
    for body in ["", "{", "{\"id\": }", "id=1", "\u{feff}{}", "{} {}"] {
        let reply = place_with(&app, body).await;
        reply.assert_problem("invalid-request", 422, None);
        assert_detail(&reply, "the body is not JSON");
    }
    for body in ["[]", "null", "\"text\"", "1"] {
        let reply = place_with(&app, body).await;
        reply.assert_problem("invalid-request", 422, None);
        assert_detail(&reply, "not an object");
    }
}

#[actix_web::test]
async fn a_body_that_is_not_said_to_be_json_is_refused() {
    let app = TestApp::new();
    let body = json!({"id": ID, "place": "A2"}).to_string();
    for said in [
        "text/plain",
        "application/x-www-form-urlencoded",
        "application/jsonp",
    ] {
        let reply = app
            .send(
                place()
                    .insert_header(("content-type", said))
                    .set_payload(body.clone()),
            )
            .await;
        reply.assert_problem("invalid-request", 422, Some("content-type"));
    }
    app.send(place().set_payload(body.clone()))
        .await
        .assert_problem("invalid-request", 422, Some("content-type"));
    let said = ("content-type", "Application/JSON; charset=utf-8");
    let reply = app
        .send(place().insert_header(said).set_payload(body))
        .await;
    assert_ne!(reply.body["type"], "invalid-request", "{}", reply.body);
}

#[actix_web::test]
async fn faults_of_shape_name_the_field() {
    let app = TestApp::new();
    let post = async |body: Value| app.post("/v1/pieces/L1.1/place", body).await;
    post(json!({"id": ID, "place": "A2", "shelf": 1}))
        .await
        .assert_problem("invalid-request", 422, Some("shelf"));
    post(json!({"id": ID}))
        .await
        .assert_problem("invalid-request", 422, Some("place"));
    post(json!({"place": "A2"}))
        .await
        .assert_problem("invalid-request", 422, Some("id"));
    post(json!({"id": ID, "place": 2}))
        .await
        .assert_problem("invalid-request", 422, Some("place"));
    post(json!({"id": ID, "place": null})).await.assert_problem(
        "invalid-request",
        422,
        Some("place"),
    );
}

#[actix_web::test]
async fn faults_deep_in_a_request_name_the_way_there() {
    let app = TestApp::new();
    let buy = async |line: Value| {
        app.post("/v1/purchases", json!({"id": ID, "line": [line]}))
            .await
    };
    let cloth = json!({"kind": "cloth", "name": "navy wool"});
    buy(json!({"price": "88"})).await.assert_problem(
        "invalid-request",
        422,
        Some("line[0].material"),
    );
    buy(json!({"material": cloth, "price": 88}))
        .await
        .assert_problem("invalid-request", 422, Some("line[0].price"));
    let colourful = json!({"kind": "cloth", "name": "navy wool", "hue": "blue"});
    let reply = buy(json!({"material": colourful, "price": "88.00"})).await;
    reply.assert_problem("invalid-request", 422, Some("line[0].material"));
    assert_detail(&reply, "hue");
}

#[actix_web::test]
async fn an_object_is_not_written_as_a_list() {
    let app = TestApp::new();
    let quote = json!({"id": ID, "garment": "G1", "price": [null, null]});
    let reply = app.post("/v1/quotations", quote).await;
    reply.assert_problem("invalid-request", 422, Some("price"));
    assert_detail(&reply, "expected an object");
    let line = json!(["navy wool", "88.00"]);
    app.post("/v1/purchases", json!({"id": ID, "line": [line]}))
        .await
        .assert_problem("invalid-request", 422, Some("line[0]"));
}

#[actix_web::test]
async fn values_that_cannot_be_read_name_the_field() {
    let app = TestApp::new();
    let flaw = async |at: Value| {
        app.post("/v1/pieces/L1.1/flaws", json!({"id": ID, "at": at}))
            .await
    };
    for wrong in ["2.4", "-1m", "much"] {
        flaw(json!(wrong))
            .await
            .assert_problem("invalid-value", 422, Some("at"));
    }
    flaw(json!(2.4))
        .await
        .assert_problem("invalid-request", 422, Some("at"));
    let reply = app
        .post("/v1/pieces/L1.1/flaws", json!({"id": "one", "at": "1m"}))
        .await;
    reply.assert_problem("invalid-value", 422, Some("id"));
    let split = json!({"id": ID, "take": "1m", "end": "upper"});
    app.post("/v1/pieces/L1.1/split", split)
        .await
        .assert_problem("invalid-value", 422, Some("end"));
    app.get("/v1/lots/17")
        .await
        .assert_problem("invalid-value", 422, Some("lot"));
    app.get("/v1/lots/L%2F1")
        .await
        .assert_problem("invalid-value", 422, Some("lot"));
    let reply = app
        .post("/v1/pieces/X/place", json!({"id": ID, "place": "A2"}))
        .await;
    reply.assert_problem("invalid-value", 422, Some("piece"));
}

#[actix_web::test]
async fn a_body_may_repeat_a_path_field_but_not_contradict_it() {
    let app = TestApp::new();
    for other in [
        json!("L1.2"),
        json!("L1.11"),
        json!(1),
        json!(null),
        json!([]),
    ] {
        let reply = app
            .post(
                "/v1/pieces/L1.1/place",
                json!({"id": ID, "piece": other, "place": "A2"}),
            )
            .await;
        reply.assert_problem("invalid-request", 422, Some("piece"));
        assert_detail(&reply, "piece is L1.1 in the path");
    }
    for same in ["L1.1", "l1.1"] {
        let reply = app
            .post(
                "/v1/pieces/L1.1/place",
                json!({"id": ID, "piece": same, "place": "A2"}),
            )
            .await;
        reply.assert_problem("not-found", 404, None);
    }
    app.get("/v1/lots/L1?lot=L2")
        .await
        .assert_problem("invalid-request", 422, Some("lot"));
}

#[actix_web::test]
async fn queries_are_read_as_strictly_as_bodies() {
    let app = TestApp::new();
    for (query, field) in [
        ("limit=many", Some("limit")),
        ("limit=-1", Some("limit")),
        ("limit=", Some("limit")),
        ("kind=paper", Some("kind")),
        ("sort=price", Some("sort")),
        ("kind=cloth&kind=thread", Some("kind")),
    ] {
        app.get(&format!("/v1/shelf?{query}"))
            .await
            .assert_problem("invalid-query", 400, field);
    }
    let reply = app
        .send(
            place()
                .uri("/v1/pieces/L1.1/place?place=A2")
                .set_json(json!({"id": ID})),
        )
        .await;
    reply.assert_problem("invalid-query", 400, None);
}

#[actix_web::test]
async fn a_body_at_the_limit_is_read_and_one_byte_more_is_refused() {
    let app = TestApp::with(&Config {
        body_limit: 1024,
        ..open()
    });
    let fill = |length: usize| {
        let empty = json!({"id": ID, "place": ""}).to_string();
        json!({"id": ID, "place": "a".repeat(length - empty.len())}).to_string()
    };
    assert_eq!(fill(1024).len(), 1024);
    let reply = place_with(&app, &fill(1024)).await;
    assert_ne!(reply.status, 413, "{}", reply.body);
    let reply = place_with(&app, &fill(1025)).await;
    reply.assert_problem("too-large", 413, None);
    assert_eq!(reply.body["limit_bytes"], 1024);
    let said = place()
        .insert_header(("content-type", "application/json"))
        .insert_header(("content-length", "9999"));
    app.send(said).await.assert_problem("too-large", 413, None);
}

#[actix_web::test]
async fn the_default_limit_is_256_kib() {
    let app = TestApp::new();
    let body = json!({"id": ID, "place": "a".repeat(256 * 1024)}).to_string();
    place_with(&app, &body)
        .await
        .assert_problem("too-large", 413, None);
}

#[actix_web::test]
async fn a_request_id_is_taken_when_it_is_well_formed_and_made_when_not() {
    let app = TestApp::new();
    let reply = app
        .send(
            TestRequest::get()
                .uri("/nowhere")
                .insert_header(("x-request-id", "bench-7")),
        )
        .await;
    reply.assert_problem("no-such-route", 404, None);
    assert_eq!(reply.body["instance"], "bench-7");
    for wrong in ["a b", "", "<script>"] {
        let reply = app
            .send(
                TestRequest::get()
                    .uri("/nowhere")
                    .insert_header(("x-request-id", wrong)),
            )
            .await;
        let id = uuid::Uuid::parse_str(reply.body["instance"].as_str().unwrap()).unwrap();
        assert_eq!(id.get_version_num(), 7);
    }
}

#[actix_web::test]
async fn a_request_for_another_host_is_refused() {
    let app = TestApp::new();
    let ask = async |host: &str| {
        app.send(
            TestRequest::get()
                .uri("/v1/workshop")
                .insert_header(("host", host)),
        )
        .await
    };
    for host in ["book.example", "book.example:8417", "192.168.0.9:8417"] {
        ask(host)
            .await
            .assert_problem("invalid-request", 422, Some("host"));
    }
    for host in ["localhost:8417", "127.0.0.1:8417", "[::1]:8417"] {
        assert_eq!(ask(host).await.status, 200, "{host}");
    }
}

#[actix_web::test]
async fn a_caller_without_a_usable_name_is_refused() {
    let app = TestApp::new();
    let ask = async |name: &str| {
        app.send(
            TestRequest::get()
                .uri("/v1/workshop")
                .insert_header(("ellwand-caller", name.as_bytes())),
        )
        .await
    };
    let (longest, too_long) = ("a".repeat(100), "a".repeat(101));
    for name in ["anna", "Zoë", &longest] {
        assert_eq!(ask(name).await.status, 200, "{name}");
    }
    for name in ["", "  ", &too_long] {
        ask(name)
            .await
            .assert_problem("invalid-value", 422, Some("ellwand-caller"));
    }
}

#[actix_web::test]
async fn answers_and_problems_are_not_kept_by_caches() {
    let app = TestApp::new();
    for uri in ["/v1/workshop", "/nowhere"] {
        assert_eq!(
            app.get(uri).await.header("cache-control"),
            Some("no-store"),
            "{uri}"
        );
    }
}
