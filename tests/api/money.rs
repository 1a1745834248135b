//! Who sees no prices sees none anywhere: two books that differ in money alone answer the same, act by act.

use crate::{
    access::{ask, locked, signed, token},
    app::{Reply, TestApp},
};
use actix_web::{http::Method as HttpMethod, test::TestRequest};
use ellwand_contract::Method;
use ellwand_domain::setting::Role;
use ellwand_server::{Config, router::table};
use ellwand_service::Secret;
use serde_json::{Value, json};
use uuid::Uuid;

/// Amounts of a book, planted to be recognised: cloth, thread, buttons, freight, a late duty, an estimate, an hour, a payment.
type Amounts = [&'static str; 8];
const ONE: Amounts = [
    "7351.97", "613.79", "281.83", "97.37", "59.93", "331.13", "61.53", "211.71",
];
const OTHER: Amounts = [
    "5157.91", "431.27", "197.53", "68.41", "41.89", "233.77", "43.19", "149.39",
];

struct Asked<'a> {
    app: &'a TestApp,
    who: Secret,
    /// What was asked, and what came back, without what names the request.
    heard: Vec<(String, Value)>,
}

impl<'a> Asked<'a> {
    fn new(app: &'a TestApp, person: &str, role: Role) -> Self {
        Self {
            app,
            who: token(app, person, role, &[]),
            heard: Vec::new(),
        }
    }

    fn note(&mut self, what: String, mut reply: Reply) -> u16 {
        if let Some(fields) = reply.body.as_object_mut() {
            fields.remove("instance");
        }
        self.heard.push((what, json!([reply.status, reply.body])));
        reply.status
    }

    async fn get(&mut self, uri: &str) -> u16 {
        let request = signed(TestRequest::get().uri(uri), self.who.expose());
        let reply = self.app.send(request).await;
        self.note(uri.to_owned(), reply)
    }

    async fn write(&mut self, method: HttpMethod, uri: &str, mut body: Value) -> u16 {
        body["id"] = json!(Uuid::now_v7());
        let what = format!("{uri} {body}").replace(body["id"].as_str().unwrap(), "id");
        let request = TestRequest::default().method(method).uri(uri);
        let reply = self
            .app
            .send(signed(request.set_json(body), self.who.expose()))
            .await;
        self.note(what, reply)
    }

    async fn post(&mut self, uri: &str, body: Value) -> u16 {
        self.write(HttpMethod::POST, uri, body).await
    }

    async fn done(&mut self, uri: &str, body: Value) {
        let status = self.post(uri, body).await;
        let last = self.heard.last();
        assert!(status < 300, "{last:?}");
    }
}

/// A full book: bought, charged, planned, promised, cut, worked, finished, quoted, accepted, paid and taken back.
async fn full(app: &TestApp, amounts: Amounts) -> Vec<(String, Value)> {
    let [
        cloth,
        thread,
        buttons,
        freight,
        duty,
        estimate,
        hour,
        payment,
    ] = amounts;
    let mut owner = Asked::new(app, "owner", Role::Owner);
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    let silk = json!({"kind": "thread", "name": "silk", "yarn_count": "29tex"});
    let horn = json!({"kind": "trim", "name": "horn button"});
    let line = json!([
        {"material": linen, "paid": "10m", "price": cloth},
        {"material": silk, "paid": "100m", "price": thread},
        {"material": horn, "paid": "40", "price": buttons},
    ]);
    let shell = json!({"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none", "estimate": estimate});
    let sewn = json!({"role": "thread", "kind": "thread", "length": "20m"});
    let plan = |name: &str| {
        json!({"name": name, "customer": "Ada", "need": [shell, sewn],
            "operation": [{"name": "sewing", "kind": "hand", "planned": "2h"}]})
    };
    let cut = |garment: &str, need: &str, piece: &str, amount: &str| json!({"garment": garment, "need": need, "piece": piece, "amount": amount});
    for (uri, body) in [
        (
            "/v1/workshop/pay-rates",
            json!({"person": "owner", "per_hour": hour}),
        ),
        (
            "/v1/workshop/overhead-rates",
            json!({"amount": cloth, "hours": "100h"}),
        ),
        ("/v1/workshop/price-rule", json!({"margin": "35%"})),
        (
            "/v1/purchases",
            json!({"supplier": "Quay", "line": line, "charge": [{"kind": "freight", "amount": freight, "share": "value"}]}),
        ),
        (
            "/v1/purchases/P1/charges",
            json!({"charge": {"kind": "duty", "amount": duty, "share": "value"}}),
        ),
        ("/v1/bookings/B6/undo", json!({})),
        ("/v1/garments", plan("vest")),
        ("/v1/garments", plan("coat")),
        ("/v1/garments", plan("cape")),
        (
            "/v1/reservations",
            json!({"garment": "G1", "picks": [{"need": "shell", "piece": "L1.1"}]}),
        ),
        ("/v1/cuts", cut("G2", "shell", "L1.1", "1m")),
        ("/v1/cuts", cut("G2", "thread", "L2.1", "20m")),
        (
            "/v1/work",
            json!({"garment": "G2", "operation": "sewing", "time": "3h"}),
        ),
        ("/v1/garments/G2/finish", json!({"good": 1, "really": true})),
        (
            "/v1/quotations",
            json!({"garment": "G3", "stage": [{"name": "deposit", "amount": "40% of gross"}, {"name": "balance"}]}),
        ),
        ("/v1/quotations/Q1/accept", json!({"version": 1})),
        ("/v1/quotations/Q1/payments", json!({"amount": payment})),
    ] {
        owner.done(uri, body).await;
    }
    owner.heard.clear();
    read(&mut owner).await;
    owner.heard
}

/// Every act that reads, of every record of the book.
async fn read(asked: &mut Asked<'_>) {
    for entry in table().entries() {
        if entry.method != Method::Get {
            continue;
        }
        let codes: Vec<String> = match entry.path.split('/').find(|part| part.starts_with('{')) {
            None => vec![String::new()],
            Some("{booking}") => (1..=30).map(|number| format!("B{number}")).collect(),
            Some("{lot}") => (1..=3).map(|number| format!("L{number}")).collect(),
            Some("{garment}") => (1..=3).map(|number| format!("G{number}")).collect(),
            Some("{purchase}") => vec!["P1".to_owned()],
            Some("{quotation}") => vec!["Q1".to_owned()],
            Some("{reservation}") => vec!["R1".to_owned(), "R2".to_owned()],
            Some("{person}") => vec!["owner".to_owned()],
            Some(_) => vec![Uuid::nil().to_string()],
        };
        for code in codes {
            let parts: Vec<&str> = entry
                .path
                .split('/')
                .map(|part| if part.starts_with('{') { &code } else { part })
                .collect();
            let query = match entry.name {
                "estimate_seam" => "?stitch=301&length=1m&per_cm=4",
                "get_overhead_spent" => "?from=2026-01-01&to=2026-12-31",
                "get_candidates" => "?all=true",
                _ => "",
            };
            let _ = asked.get(&format!("{}{query}", parts.join("/"))).await;
        }
    }
}

/// Daily work, done and refused; then every act that writes, in a request that could be read.
async fn write(asked: &mut Asked<'_>) {
    let cut = |need: &str, piece: &str, amount: &str| json!({"garment": "G1", "need": need, "piece": piece, "amount": amount});
    for (uri, body) in [
        (
            "/v1/lots/L1/wash-tests",
            json!({"preparation": "washed", "length_before": ["50cm"], "length_after": [["49cm"]]}),
        ),
        (
            "/v1/lots/L1/stiffness",
            json!({"lengthwise": [["62mm"]], "mass": "120gsm"}),
        ),
        ("/v1/pieces/L1.1/place", json!({"place": "A2"})),
        (
            "/v1/pieces/L1.1/flaws",
            json!({"at": "8.5m", "note": "slub"}),
        ),
        ("/v1/pieces/L1.1/split", json!({"take": "1m"})),
        ("/v1/pieces/L1.2/measure", json!({"found": "0.95m"})),
        (
            "/v1/pieces/L1.2/prepare",
            json!({"preparation": "washed", "length": "0.93m"}),
        ),
        (
            "/v1/reservations",
            json!({"garment": "G1", "picks": [{"need": "thread", "piece": "L2.1"}]}),
        ),
        ("/v1/cuts", cut("thread", "L2.1", "20m")),
        ("/v1/cuts", json!({"garment": "G1", "need": "shell"})),
        (
            "/v1/work",
            json!({"garment": "G1", "operation": "sewing", "time": "1h"}),
        ),
        // The rest of its cost is written off, and a remark says so.
        (
            "/v1/pieces/L2.1/weigh",
            json!({"gross": "10g", "tare": "10g"}),
        ),
    ] {
        let _ = asked.post(uri, body).await;
    }
    for (uri, body) in [
        ("/v1/cuts", cut("shell", "L1.1", "99m")),
        (
            "/v1/reservations",
            json!({"garment": "G3", "picks": [{"need": "shell", "piece": "L1.1"}], "until": "2020-01-01"}),
        ),
        ("/v1/bookings/B5/undo", json!({})),
        ("/v1/bookings/B7/undo", json!({})),
        ("/v1/pieces/L1.1/measure", json!({"found": "90m"})),
    ] {
        assert!(
            asked.post(uri, body).await >= 400,
            "{:?}",
            asked.heard.last()
        );
    }
    for entry in table().entries() {
        if entry.method != Method::Get {
            let reply = ask(
                asked.app,
                entry.name,
                entry.method,
                entry.path,
                Some(asked.who.expose()),
            )
            .await;
            let _ = asked.note(entry.name.to_owned(), reply);
        }
    }
}

/// An amount as it may stand: `7351.97`, `7351,97`, `7.351,97`, in minor units, in millionths.
fn forms(amount: &str) -> Vec<String> {
    let digits = amount.replace('.', "");
    let (thousands, rest) = amount.split_at(amount.len().saturating_sub(6));
    vec![
        amount.to_owned(),
        amount.replace('.', ","),
        format!("{thousands},{rest}"),
        format!("{digits}0000"),
        digits,
    ]
}

async fn two_books(role: Role) -> [(Vec<(String, Value)>, Vec<(String, Value)>); 2] {
    let config = || Config {
        requests_per_minute: 100_000,
        ..Config::default()
    };
    let mut both = Vec::new();
    for amounts in [ONE, OTHER] {
        let app = TestApp::with(&config());
        let owner = full(&app, amounts).await;
        let mut asked = Asked::new(&app, "pia", role);
        read(&mut asked).await;
        write(&mut asked).await;
        read(&mut asked).await;
        both.push((owner, asked.heard));
    }
    both.try_into().unwrap()
}

async fn hears_nothing_of_money(role: Role) -> Vec<(String, Value)> {
    let [(owner, one), (_, other)] = two_books(role).await;
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(&other) {
        assert_eq!(one, other, "{}", one.0);
    }
    let told = |heard: &[(String, Value)], amount: &str| {
        forms(amount).iter().any(|form| {
            heard
                .iter()
                .any(|(_, answer)| answer.to_string().contains(form))
        })
    };
    for amount in ONE {
        assert!(!told(&one, amount), "{amount} is told");
        assert!(told(&owner, amount), "{amount} is in the book");
    }
    one
}

#[actix_web::test]
async fn an_apprentice_works_a_day_and_hears_nothing_of_money() {
    let heard = hears_nothing_of_money(Role::Apprentice).await;
    let work = heard.iter().filter(|(what, _)| what.contains("\"id\""));
    let done = work.clone().take_while(|(what, _)| !what.contains("99m"));
    assert!(
        done.clone().all(|(_, answer)| answer[0] == 201),
        "{:?}",
        done.collect::<Vec<_>>()
    );
    assert_eq!(done.count(), 12, "a day's work is done");
    let said = |text: &str| {
        heard
            .iter()
            .any(|(_, answer)| answer.to_string().contains(text))
    };
    assert!(said("the rest of its cost, an amount, is written off"));
    assert!(said("Charged an amount on P1"));
}

#[actix_web::test]
async fn a_viewer_without_prices_hears_nothing_of_money() {
    hears_nothing_of_money(Role::Viewer).await;
}

/// Daily work is an apprentice's, and nothing that is a maker's, whoever granted it.
#[actix_web::test]
async fn an_apprentice_is_sent_to_a_maker_and_has_no_grants() {
    let app = locked();
    let mut owner = Asked::new(&app, "owner", Role::Owner);
    let mut apprentice = Asked::new(&app, "pia", Role::Apprentice);
    owner.done("/v1/garments", json!({"name": "vest"})).await;
    assert_eq!(
        apprentice
            .post("/v1/garments", json!({"name": "vest"}))
            .await,
        403
    );
    let (_, refused) = apprentice.heard.last().unwrap();
    assert_eq!(
        refused[1]["detail"],
        "pia is an apprentice, and this is a maker's work: it has to do with prices or plans"
    );
    // The plan is a maker's booking, and so is taking it back.
    assert_eq!(
        apprentice.post("/v1/bookings/B3/undo", json!({})).await,
        403
    );
    let hash = Secret::make().unwrap().hash();
    let body =
        json!({"person": "pim", "role": "apprentice", "grants": ["pay-rates"], "hash": hash});
    assert_eq!(owner.post("/v1/tokens", body).await, 422);
}
