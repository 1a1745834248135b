//! Who may do what: every route, asked by everyone.

use crate::app::{Reply, TestApp};
use actix_web::{http::Method as HttpMethod, test::TestRequest};
use ellwand_contract::{
    Method, acts,
    bookings::ListBookings,
    people::{CreateToken, ListTokens},
    workshop::SetPayRate,
};
use ellwand_domain::setting::{Grant, Role};
use ellwand_server::{Config, router::table};
use ellwand_service::{Caller, Secret};
use serde_json::{Value, json};
use std::fmt::Write;
use uuid::Uuid;

/// A server that asks for tokens.
pub fn locked() -> TestApp {
    TestApp::with(&Config::default())
}

/// A new token for someone.
pub fn token(app: &TestApp, person: &str, role: Role, grants: &[Grant]) -> Secret {
    let secret = Secret::make().unwrap();
    let request = CreateToken {
        id: Uuid::now_v7(),
        person: person.to_owned(),
        role,
        grants: grants.to_vec(),
        hash: secret.hash(),
        label: None,
        until: None,
        same_person: true,
    };
    app.call(&Caller::owner("owner"), &request);
    secret
}

pub fn signed(request: TestRequest, token: &str) -> TestRequest {
    request.insert_header(("authorization", format!("Bearer {token}")))
}

/// A request that can be read, so that whoever is refused is refused for who they are.
fn body(act: &str) -> Value {
    let mut body = match act {
        "set_workshop" => json!({"units": "metric"}),
        "set_pay_rate" => json!({"person": "owner", "per_hour": "20", "from": "2026-01-01"}),
        "set_tax_rate" => json!({"name": "VAT", "rate": "20%"}),
        "set_price_rule" => json!({"margin": "35%"}),
        "set_words" => json!({"words": {"quotation": "Tilbud"}}),
        "set_tax_reclaim" => json!({"reclaim": true, "from": "2026-01-01"}),
        "set_overhead_rate" => json!({"amount": "100", "hours": "10h"}),
        "set_figures" => {
            json!({"pay": "30000", "overhead": "9600", "weeks": 46, "hours": "40h", "billable": "60%"})
        }
        "set_overhead_spent" => {
            json!({"from": "2026-01-01", "to": "2026-12-31", "amount": "10200"})
        }
        "set_operation" => json!({"name": "hem", "minutes": "45min"}),
        "set_person" => json!({"person": "anna", "paid": true}),
        "forget_operation" => json!({"name": "hem"}),
        "close_books" => json!({"to": "2026-01-31"}),
        "measure_customer" => json!({"measures": [{"name": "chest", "length": "104cm"}]}),
        "edit_supplier" | "edit_customer" => json!({"note": "by the quay"}),
        "edit_material" | "edit_lot" => json!({"sheet": {"colour": "blue"}}),
        "buy" => {
            json!({"line": [{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]})
        }
        "add_charge" => json!({"charge": {"kind": "freight", "amount": "1"}}),
        "price_lot" => json!({"price": "24.00"}),
        "place_piece" => json!({"place": "A2"}),
        "mark_flaw" => json!({"at": "1m", "note": "slub"}),
        "remove_flaw" => json!({"flaw": 1}),
        "split_piece" => json!({"take": "1m"}),
        "measure_piece" => json!({"found": "1m"}),
        "weigh_piece" => json!({"gross": "1kg"}),
        "give_goods" => json!({"goods": {"piece": "L1.1"}}),
        "sell_goods" => json!({"goods": {"piece": "L1.1"}, "price": "9"}),
        "discard_goods" => json!({"goods": {"piece": "L1.1"}, "reason": "moths"}),
        "test_wash" => {
            json!({"preparation": "washed", "length_before": ["50cm"], "length_after": [["49cm"]]})
        }
        "test_stiffness" => json!({"lengthwise": [["62mm"]], "mass": "120gsm"}),
        "finish_wash" => json!({"preparation": "washed", "length": "1m"}),
        "finish_washes" => {
            json!({"preparation": "washed", "pieces": [{"piece": "L1.1", "length": "1m"}]})
        }
        "plan_garment" => json!({"name": "vest"}),
        "edit_garment" => json!({"name": "vest"}),
        "finish_garment" => json!({"good": 1}),
        "cancel_garment" | "copy_garment" | "deliver_garment" | "undo" | "revoke_token"
        | "erase_customer" => {
            json!({})
        }
        "keep_lay" => {
            json!({"draft": {"format": 1, "ways": "one", "spacing_um": 0, "parts": [], "rungs": []}})
        }
        "rate_detail" => json!({"detail": "hem", "rating": 4}),
        "make_quotation" => json!({"garment": "G1"}),
        "requote" => json!({}),
        "accept_quotation" => json!({"version": 1}),
        "close_quotation" => json!({}),
        "log_payment" => json!({"amount": "1.00"}),
        "reserve" => json!({"garment": "G1", "picks": [{"need": "shell", "piece": "L1.1"}]}),
        "release" => json!({"reservations": ["R1"]}),
        "cut" => json!({"garment": "G1", "need": "shell", "piece": "L1.1", "amount": "1m"}),
        "cut_promises" => json!({"promises": ["R1"]}),
        "log_work" => json!({"garment": "G1", "operation": "sewing", "time": "1h"}),
        "revoke_tokens" => json!({"person": "cy"}),
        "create_token" => {
            json!({"person": "cy", "role": "viewer", "hash": Secret::make().unwrap().hash()})
        }
        other => panic!("no request for {other}"),
    };
    body["id"] = json!(Uuid::now_v7());
    body
}

/// `L1.1` for `{piece}`, `G1` for `{garment}` …
fn filled(path: &str) -> String {
    let code = |field: &str| match field {
        "{piece}" => "L1.1".to_owned(),
        "{logo}" => "9".to_owned(),
        "{lay}" => "Y9".to_owned(),
        "{request}" => Uuid::nil().to_string(),
        field => format!("{}9", field[1..2].to_uppercase()),
    };
    let parts: Vec<String> = path
        .split('/')
        .map(|part| {
            if part.starts_with('{') {
                code(part)
            } else {
                part.to_owned()
            }
        })
        .collect();
    let path = parts.join("/");
    // The only read that cannot do without a field.
    if path.ends_with("/estimate") {
        format!("{path}?stitch=301")
    } else {
        path
    }
}

pub async fn ask(
    app: &TestApp,
    act: &str,
    method: Method,
    path: &str,
    token: Option<&str>,
) -> Reply {
    let request = TestRequest::default().uri(&filled(path));
    let request = match method {
        Method::Get => request,
        Method::Post => request.method(HttpMethod::POST).set_json(body(act)),
        Method::Patch => request.method(HttpMethod::PATCH).set_json(body(act)),
    };
    app.send(match token {
        Some(token) => signed(request, token),
        None => request,
    })
    .await
}

/// Every route by everyone, against what the router's table says; and that table for reviewers.
#[actix_web::test]
async fn every_route_is_open_to_those_it_is_meant_for_and_to_nobody_else() {
    let app = TestApp::with(&Config {
        requests_per_minute: 100_000,
        ..Config::default()
    });
    let (mut people, mut shown) = (Vec::new(), String::new());
    for role in Role::ALL {
        people.push((*role, Vec::new()));
        for grant in Grant::ALL.iter().filter(|_| *role != Role::Owner) {
            people.push((*role, vec![*grant]));
        }
    }
    for entry in table().entries() {
        if entry.method != Method::Get {
            assert_eq!(
                acts::needs(entry.name),
                Some(entry.access),
                "{}",
                entry.name
            );
        }
        let mut may = Vec::new();
        for (role, grants) in &people {
            let person = token(&app, "someone", *role, &[]);
            // Grants that have no effect are refused at the door; the table must hold for them all the same.
            let person = if grants.is_empty() {
                person
            } else {
                granted(&app, *role, grants)
            };
            let reply = ask(
                &app,
                entry.name,
                entry.method,
                entry.path,
                Some(person.expose()),
            )
            .await;
            let allowed = entry.access.allows(*role, grants);
            let name = format!("{} by {role} {grants:?}: {}", entry.name, reply.body);
            assert_ne!(reply.body["type"], "invalid-request", "{name}");
            assert_ne!(reply.body["type"], "invalid-query", "{name}");
            assert_eq!(reply.status != 403, allowed, "{name}");
            if allowed {
                let with = grants
                    .first()
                    .map_or_else(String::new, |grant| format!("+{grant}"));
                may.push(format!("{role}{with}"));
            } else {
                reply.assert_problem("not-allowed", 403, None);
            }
        }
        // A role that may without grants may with each of them.
        let plain = may.clone();
        may.retain(|who| {
            who.split_once('+')
                .is_none_or(|(role, _)| !plain.contains(&role.to_owned()))
        });
        writeln!(shown, "{:<20} {}", entry.name, may.join(", ")).unwrap();
    }
    insta::assert_snapshot!("access", shown);
}

/// A token as it would stand in the book, whatever the door says of its grants.
fn granted(app: &TestApp, role: Role, grants: &[Grant]) -> Secret {
    let secret = token(app, "someone", role, &[]);
    for grant in grants {
        app.sql(&format!(
            "INSERT INTO token_grants (token_id, word) SELECT id, '{grant}' FROM tokens WHERE hash = '{}'",
            secret.hash()
        ));
    }
    secret
}

#[actix_web::test]
async fn a_stranger_an_unknown_and_a_revoked_token_reach_nothing() {
    let app = locked();
    let owner = token(&app, "owner", Role::Owner, &[]);
    let (revoked, unknown) = (
        token(&app, "gone", Role::Owner, &[]),
        Secret::make().unwrap(),
    );
    let revoke = TestRequest::post()
        .uri("/v1/tokens/T2/revoke")
        .set_json(json!({"id": Uuid::now_v7()}));
    let reply = app.send(signed(revoke, owner.expose())).await;
    assert_eq!(
        (&reply.body["person"], &reply.body["revoked_by"]),
        (&"gone".into(), &"owner".into())
    );
    for entry in table().entries() {
        for token in [
            None,
            Some(unknown.expose()),
            Some(revoked.expose()),
            Some("ellwand_1"),
            Some(""),
        ] {
            let reply = ask(&app, entry.name, entry.method, entry.path, token).await;
            reply.assert_problem("not-signed-in", 401, None);
            assert_eq!(
                reply.header("www-authenticate"),
                Some("Bearer"),
                "{}",
                entry.name
            );
        }
    }
    assert_eq!(
        app.call(&Caller::owner("owner"), &ListTokens {})
            .tokens
            .len(),
        2
    );
    let bookings = app
        .call(&Caller::owner("owner"), &ListBookings::default())
        .bookings;
    assert_eq!(bookings.len(), 3, "two were let in, and one revoked");
}

#[actix_web::test]
async fn the_document_and_the_health_checks_are_open() {
    let app = locked();
    for uri in [
        "/v1/openapi.json",
        "/v1/version",
        "/health/live",
        "/health/ready",
    ] {
        assert_eq!(app.get(uri).await.status, 200, "{uri}");
    }
}

#[actix_web::test]
async fn whoever_books_stands_in_the_history_whatever_a_header_says() {
    let app = locked();
    let maker = token(&app, "anna", Role::Maker, &[]);
    let request = TestRequest::post()
        .uri("/v1/purchases")
        .set_json(body("buy"));
    let request = signed(request, maker.expose()).insert_header(("ellwand-caller", "owner"));
    assert_eq!(app.send(request).await.status, 201);
    let reply = app
        .send(signed(
            TestRequest::get().uri("/v1/bookings"),
            maker.expose(),
        ))
        .await;
    assert_eq!(reply.body["bookings"][0]["by"], "anna");
    let reply = app
        .send(signed(TestRequest::get().uri("/v1/self"), maker.expose()))
        .await;
    assert_eq!(
        reply.body,
        json!({"person": "anna", "role": "maker", "grants": [], "token": "T1"})
    );
}

/// Fields that tell a price, wherever they stand.
fn prices(value: &Value, way: &str, found: &mut Vec<String>) {
    const NAMES: [&str; 12] = [
        "value",
        "cost",
        "printed",
        "landed",
        "landed_printed",
        "material_cost",
        "price",
        "home_total",
        "per_hour",
        "amount_home",
        "actual",
        "planned",
    ];
    match value {
        Value::Object(object) => {
            for (name, inner) in object {
                if NAMES.contains(&name.as_str()) && !inner.is_null() {
                    found.push(format!("{way}/{name}: {inner}"));
                }
                prices(inner, &format!("{way}/{name}"), found);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| prices(item, way, found)),
        Value::String(text)
            if text.contains("EUR") || text.contains("61.") || text.contains("7.77") =>
        {
            found.push(format!("{way}: {text}"));
        }
        _ => {}
    }
}

/// A busy book: what a viewer is reported of it names no price, and a maker no pay rate.
#[actix_web::test]
async fn what_is_not_reported_is_in_no_answer() {
    let app = locked();
    let owner = token(&app, "owner", Role::Owner, &[]);
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
    let rate: SetPayRate = serde_json::from_value(
        json!({"id": Uuid::now_v7(), "person": "owner", "per_hour": "61.50", "from": "2026-01-01"}),
    )
    .unwrap();
    app.call(&Caller::owner("owner"), &rate);
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    let silk = json!({"kind": "thread", "name": "silk"});
    let lines = json!([
        {"material": linen, "paid": "5m", "price": "61.77"},
        {"material": silk, "paid": "100m", "price": "61.20"},
    ]);
    post("/v1/purchases", json!({"line": lines})).await;
    post(
        "/v1/purchases/P1/charges",
        json!({"charge": {"kind": "freight", "amount": "7.77"}}),
    )
    .await;
    post("/v1/bookings/B4/undo", json!({})).await;
    let needs = json!([
        {"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"},
        {"role": "thread", "kind": "thread", "length": "20m"},
    ]);
    post("/v1/garments", json!({"name": "vest", "need": needs})).await;
    post(
        "/v1/reservations",
        json!({"garment": "G1", "picks": [{"need": "shell", "piece": "L1.1"}]}),
    )
    .await;
    post(
        "/v1/cuts",
        json!({"garment": "G1", "need": "thread", "piece": "L2.1", "amount": "10m"}),
    )
    .await;
    let viewer = token(&app, "vi", Role::Viewer, &[]);
    let trusted = token(&app, "tru", Role::Viewer, &[Grant::Prices]);
    let maker = token(&app, "mo", Role::Maker, &[]);
    let pages = [
        "/v1/workshop",
        "/v1/suppliers",
        "/v1/customers",
        "/v1/materials",
        "/v1/shelf",
        "/v1/lots/L1",
        "/v1/lots/L2",
        "/v1/garments",
        "/v1/garments/G1",
        "/v1/garments/G1/candidates",
        "/v1/reservations/R1",
        "/v1/bookings",
        "/v1/changes",
        "/v1/bookings/B1",
        "/v1/bookings/B2",
        "/v1/bookings/B3",
        "/v1/bookings/B4",
        "/v1/bookings/B5",
    ];
    let mut report = 0;
    for uri in pages {
        let read = async |secret: &Secret| {
            app.send(signed(TestRequest::get().uri(uri), secret.expose()))
                .await
        };
        let reply = read(&viewer).await;
        assert_eq!(reply.status, 200, "{uri}: {}", reply.body);
        let mut found = Vec::new();
        prices(&reply.body, uri, &mut found);
        // The settings say which currency; that is no price.
        found.retain(|found| !found.ends_with("/currency: EUR"));
        assert_eq!(found, Vec::<String>::new());
        let mut seen = Vec::new();
        prices(&read(&trusted).await.body, uri, &mut seen);
        report += seen.len();
        assert!(
            !read(&maker).await.body.to_string().contains("61.5"),
            "{uri}: a pay rate"
        );
    }
    assert!(report > 20, "those who see prices get them: {report}");
}

/// A name is no key: another token of the same name is reported of no request that it might not make.
#[actix_web::test]
async fn a_record_of_a_request_is_reported_to_those_who_might_make_it() {
    let app = locked();
    let owner = token(&app, "ada", Role::Owner, &[]);
    let rate =
        json!({"id": Uuid::now_v7(), "person": "bo", "per_hour": "61.50", "from": "2026-01-01"});
    let uri = format!("/v1/requests/{}", rate["id"].as_str().unwrap());
    app.send(signed(
        TestRequest::post()
            .uri("/v1/workshop/pay-rates")
            .set_json(rate),
        owner.expose(),
    ))
    .await;
    let read = async |secret: &Secret| {
        app.send(signed(TestRequest::get().uri(&uri), secret.expose()))
            .await
    };
    assert_eq!(read(&owner).await.body["content"]["per_hour"], "61.50");
    assert_eq!(
        read(&token(&app, "ada", Role::Maker, &[Grant::PayRates]))
            .await
            .status,
        200
    );
    for (role, grants) in [
        (Role::Maker, &[][..]),
        (Role::Viewer, &[Grant::PayRates, Grant::Prices]),
    ] {
        read(&token(&app, "ada", role, grants))
            .await
            .assert_problem("not-found", 404, None);
    }
}

/// Whoever lets people in without being an owner gives out neither more than they have nor an owner's name.
#[actix_web::test]
async fn nobody_lets_in_more_than_they_are() {
    let app = locked();
    let owner = token(&app, "Ada", Role::Owner, &[]);
    let maker = token(&app, "mo", Role::Maker, &[Grant::People, Grant::Books]);
    let create = async |person: &str, role: &str, grants: &[&str]| {
        let hash = Secret::make().unwrap().hash();
        let body = json!({"id": Uuid::now_v7(), "person": person, "role": role, "grants": grants, "hash": hash});
        app.send(signed(
            TestRequest::post().uri("/v1/tokens").set_json(body),
            maker.expose(),
        ))
        .await
    };
    create("bo", "owner", &[])
        .await
        .assert_problem("not-allowed", 403, None);
    create("bo", "maker", &["settings"])
        .await
        .assert_problem("not-allowed", 403, None);
    for name in ["owner", "OWNER", "ada"] {
        create(name, "maker", &[])
            .await
            .assert_problem("invalid-value", 422, Some("person"));
    }
    for name in ["", "  ", "a\u{1b}[31mb", "a\u{202e}b"] {
        create(name, "maker", &[])
            .await
            .assert_problem("invalid-value", 422, Some("person"));
    }
    assert_eq!(create("bo", "maker", &["books"]).await.status, 201);
    let revoke = TestRequest::post()
        .uri("/v1/tokens/T1/revoke")
        .set_json(json!({"id": Uuid::now_v7()}));
    app.send(signed(revoke, maker.expose()))
        .await
        .assert_problem("not-allowed", 403, None);
    let revoke = TestRequest::post()
        .uri("/v1/tokens/T1/revoke")
        .set_json(json!({"id": Uuid::now_v7()}));
    app.send(signed(revoke, owner.expose()))
        .await
        .assert_problem("wrong-state", 409, None);
}

/// Measurements are personal: who only reads sees none, whatever else is granted.
#[actix_web::test]
async fn a_viewer_sees_no_measurements() {
    let app = locked();
    let owner = token(&app, "owner", Role::Owner, &[]);
    let measures = json!([{"name": "chest", "length": "104cm"}]);
    for (uri, mut body) in [
        ("/v1/garments", json!({"name": "vest", "customer": "Ada"})),
        ("/v1/customers/C1/measures", json!({"measures": measures})),
    ] {
        body["id"] = json!(Uuid::now_v7());
        let request = TestRequest::post().uri(uri).set_json(body);
        let reply = app.send(signed(request, owner.expose())).await;
        assert_eq!(reply.status, 201, "{uri}: {}", reply.body);
    }
    let viewer = token(&app, "vi", Role::Viewer, &[Grant::Prices]);
    let maker = token(&app, "mo", Role::Maker, &[]);
    for uri in ["/v1/customers/C1?all=true", "/v1/garments/G1"] {
        let read = async |secret: &Secret| {
            let request = TestRequest::get().uri(uri);
            app.send(signed(request, secret.expose())).await.body
        };
        assert!(read(&maker).await.to_string().contains("104cm"), "{uri}");
        let seen = read(&viewer).await.to_string();
        assert!(
            !seen.contains("104") && seen.contains("Ada"),
            "{uri}: {seen}"
        );
    }
}
