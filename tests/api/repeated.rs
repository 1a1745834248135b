//! Requests sent again: the same id and content get the first answer, other content is refused.

use crate::app::{TestApp, open};
use actix_web::test::TestRequest;
use ellwand_server::spawn;
use serde_json::{Value, json};
use std::{
    io::{Read, Write},
    net::{TcpListener, TcpStream},
    thread,
};

const BUY: &str = "0192f0c8-5c00-7000-8000-000000000011";
const SET: &str = "0192f0c8-5c00-7000-8000-000000000012";

fn purchase(price: &str) -> Value {
    json!({
        "id": BUY,
        "supplier": "Harbour Cloth Stall",
        "date": "2026-10-03",
        "line": [{
            "material": {"kind": "cloth", "name": "navy wool", "full_width": "150cm", "selvedges": "1cm"},
            "paid": "4.00m",
            "price": price
        }]
    })
}

#[actix_web::test]
async fn a_repeated_purchase_is_booked_once_and_answered_alike() {
    let app = TestApp::new();
    let first = app.post("/v1/purchases", purchase("88.00")).await;
    assert_eq!(first.status, 201, "{}", first.body);
    assert_eq!(first.header("ellwand-repeated"), None);
    let again = app.post("/v1/purchases", purchase("88.00")).await;
    assert_eq!(again.status, 200, "{}", again.body);
    assert_eq!(again.header("ellwand-repeated"), Some("true"));
    assert_eq!(again.body, first.body);
    let list = app.get("/v1/purchases").await;
    assert_eq!(
        list.body["purchases"].as_array().unwrap().len(),
        1,
        "{}",
        list.body
    );
}

#[actix_web::test]
async fn the_same_id_with_other_content_is_refused_with_the_field() {
    let app = TestApp::new();
    assert_eq!(
        app.post("/v1/purchases", purchase("88.00")).await.status,
        201
    );
    let other = app.post("/v1/purchases", purchase("89.00")).await;
    assert_eq!(
        (other.status, &other.body["type"]),
        (409, &json!("exists-with-different")),
        "{}",
        other.body
    );
    assert!(
        other.body["field"].as_str().unwrap().starts_with("line"),
        "{}",
        other.body
    );
    let lot = app.get("/v1/lots/L1").await;
    assert_eq!(lot.body["landed"], "88", "{}", lot.body);
}

#[actix_web::test]
async fn a_change_is_answered_with_200_and_a_repeated_one_says_so() {
    let app = TestApp::new();
    let change = json!({"id": SET, "zone": "Europe/Vienna"});
    let first = app.patch("/v1/workshop", change.clone()).await;
    assert_eq!(
        (first.status, first.header("ellwand-repeated")),
        (200, None),
        "{}",
        first.body
    );
    let again = app.patch("/v1/workshop", change).await;
    assert_eq!(
        (again.status, again.header("ellwand-repeated")),
        (200, Some("true")),
        "{}",
        again.body
    );
    assert_eq!(again.body, first.body);
}

#[actix_web::test]
async fn a_refused_request_may_be_sent_again_put_right() {
    let app = TestApp::new();
    let mut wrong = purchase("88.00");
    wrong["currency"] = json!("XYZ");
    let refused = app.post("/v1/purchases", wrong).await;
    assert_eq!(refused.status, 422, "{}", refused.body);
    assert_eq!(
        app.post("/v1/purchases", purchase("88.00")).await.status,
        201
    );
}

/// Design, section 4, rule 5: a repeat, marked by the client, that is refused settles its id.
#[actix_web::test]
async fn a_refused_repeat_is_final_for_its_id() {
    let app = TestApp::new();
    let cut = json!({"id": SET, "place": "A2"});
    let repeat = TestRequest::post()
        .uri("/v1/pieces/L1.1/place")
        .insert_header(("ellwand-repeat", "true"));
    let refused = app.send(repeat.set_json(cut.clone())).await;
    refused.assert_problem("not-found", 404, None);
    assert_eq!(
        app.post("/v1/purchases", purchase("88.00")).await.status,
        201
    );
    let late = app.post("/v1/pieces/L1.1/place", cut).await;
    late.assert_problem("not-found", 404, None);
    assert_eq!(late.body["detail"], refused.body["detail"]);
    let lot = app.get("/v1/lots/L1").await;
    assert_eq!(lot.body["pieces"][0]["place"], Value::Null, "{}", lot.body);
}

/// The server's clock stands on 12 October 2026, 9:00 UTC.
#[actix_web::test]
async fn a_clock_far_from_the_senders_is_asked_about() {
    let app = TestApp::new();
    let sent = |at: &'static str| {
        TestRequest::post()
            .uri("/v1/purchases")
            .insert_header(("ellwand-sent-at", at))
    };
    let asked = app
        .send(sent("2026-10-11T08:59:00Z").set_json(purchase("88.00")))
        .await;
    asked.assert_problem("clock-in-doubt", 409, None);
    assert_eq!(
        (&asked.body["clock"], &asked.body["sent_at"]),
        (
            &json!("2026-10-12T09:00:00Z"),
            &json!("2026-10-11T08:59:00Z")
        )
    );
    let no_time = app
        .send(sent("yesterday").set_json(purchase("88.00")))
        .await;
    no_time.assert_problem("invalid-value", 422, Some("ellwand-sent-at"));
    let confirmed = sent("2026-10-11T08:59:00Z").insert_header(("ellwand-clock", "confirmed"));
    assert_eq!(
        app.send(confirmed.set_json(purchase("88.00"))).await.status,
        201
    );
}

#[actix_web::test]
async fn a_path_field_counts_as_content() {
    let app = TestApp::new();
    assert_eq!(
        app.post("/v1/purchases", purchase("88.00")).await.status,
        201
    );
    let move_to = json!({"id": SET, "place": "A2"});
    let first = app.post("/v1/pieces/L1.1/place", move_to.clone()).await;
    assert_eq!(first.status, 201, "{}", first.body);
    assert_eq!(first.body["piece"]["place"], "A2");
    let other = app.post("/v1/pieces/L1.2/place", move_to).await;
    other.assert_problem("exists-with-different", 409, Some("piece"));
}

#[actix_web::test]
async fn the_caller_stands_in_the_history() {
    let app = TestApp::new();
    let request = TestRequest::post()
        .uri("/v1/purchases")
        .insert_header(("ellwand-caller", "anna"));
    assert_eq!(
        app.send(request.set_json(purchase("88.00"))).await.status,
        201
    );
    let history = app.get("/v1/bookings?lot=L1&limit=1").await;
    assert_eq!(
        history.body["bookings"][0]["by"], "anna",
        "{}",
        history.body
    );
    let own = app.get("/v1/bookings/last").await;
    own.assert_problem(
        "not-found",
        404,
        own.body.get("field").and_then(Value::as_str),
    );
}

/// Eight connections send one purchase at the same time: it is booked once, and all get the same answer.
#[test]
fn a_request_sent_many_times_at_once_is_booked_once() {
    let app = TestApp::new();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let running = spawn(&open(), app.book.clone(), listener).unwrap();
    let address = running.address();
    let body = purchase("88.00").to_string();
    let head = "host: localhost\r\ncontent-type: application/json\r\nconnection: close";
    let length = body.len();
    let request =
        format!("POST /v1/purchases HTTP/1.1\r\n{head}\r\ncontent-length: {length}\r\n\r\n{body}");
    let clients: Vec<_> = (0..8)
        .map(|_| {
            let request = request.clone();
            thread::spawn(move || {
                let mut stream = TcpStream::connect(address).unwrap();
                stream.write_all(request.as_bytes()).unwrap();
                let mut answer = String::new();
                stream.read_to_string(&mut answer).unwrap();
                let (head, body) = answer.split_once("\r\n\r\n").unwrap();
                (head.lines().next().unwrap().to_owned(), body.to_owned())
            })
        })
        .collect();
    let answers: Vec<_> = clients
        .into_iter()
        .map(|client| client.join().unwrap())
        .collect();
    let count = |status: &str| {
        answers
            .iter()
            .filter(|(line, _)| line.starts_with(status))
            .count()
    };
    assert_eq!(
        (count("HTTP/1.1 201"), count("HTTP/1.1 200")),
        (1, 7),
        "{answers:?}"
    );
    assert!(
        answers.iter().all(|(_, body)| *body == answers[0].1),
        "{answers:?}"
    );
    running.stop().unwrap();
}

#[actix_web::test]
async fn a_trial_makes_nothing_and_says_so_by_its_status() {
    let app = TestApp::new();
    let plan = json!({"name": "top", "operation": [{"name": "sewing", "kind": "machine", "planned": "2h"}]});
    assert_eq!(app.post("/v1/garments", plan).await.status, 201);
    let asked = |is_trial: bool| json!({"id": SET, "garment": "G1", "price": {"price": "60"}, "try": is_trial});
    for _ in 0..2 {
        let tried = app.post("/v1/quotations", asked(true)).await;
        assert_eq!(
            (
                tried.status,
                tried.header("ellwand-repeated"),
                &tried.body["sheet"]["gross"]
            ),
            (200, None, &json!("60.00")),
            "{}",
            tried.body
        );
    }
    let none = app.get("/v1/quotations").await;
    assert_eq!(none.body["quotations"], json!([]));
    assert_eq!(app.post("/v1/quotations", asked(false)).await.status, 201);
}
