//! `kill -9` of the server, and of PostgreSQL, at any moment under load: nothing that was answered is lost, nothing is half
//! booked, and every request ends with the answer that it would have had.

use crate::{
    cluster::{Cluster, port},
    place::Place,
    served::{Asking, Served, migrate, rounds},
};
use serde_json::{Value, json};
use std::{
    collections::BTreeSet,
    sync::atomic::{AtomicBool, Ordering},
    thread,
    time::Duration,
};
use uuid::Uuid;

const CLIENTS: usize = 6;

/// What a client sent and what it was reported.
struct Report {
    id: Uuid,
    path: &'static str,
    body: Value,
    answer: Value,
}

/// Buys, promises and gives back until it is time to stop; never gives up on a request.
fn work(url: &str, number: usize, stop: &AtomicBool) -> Vec<Report> {
    let asking = Asking::new();
    let mut report = Vec::new();
    let mut send = |path: &'static str, body: Value| -> Value {
        let id = Uuid::now_v7();
        let (status, answer) = asking.post_as(url, path, id, body.clone());
        assert!(status < 300, "{path} by {number}: {answer}");
        report.push(Report {
            id,
            path,
            body,
            answer: answer.clone(),
        });
        answer
    };
    let need = json!([{"role": "shell", "kind": "cloth", "length": "0.46m", "width": "140cm", "preparation": "none"}]);
    let planned = send("/v1/garments", json!({"name": "vest", "need": need}));
    let garment = planned["garment"].clone();
    while !stop.load(Ordering::Relaxed) {
        let button = json!({"kind": "trim", "name": format!("button {number}")});
        send(
            "/v1/purchases",
            json!({"line": [{"material": button, "paid": "6", "price": "3"}]}),
        );
        let picks = json!([{"need": "shell", "piece": "L1.1"}]);
        let reserved = send(
            "/v1/reservations",
            json!({"garment": garment, "picks": picks}),
        );
        let promise = reserved["reservations"][0]["reservation"].clone();
        send(
            "/v1/reservations/release",
            json!({"reservations": [promise]}),
        );
    }
    report
}

/// Kills something again and again while clients work, then looks at what became of it all.
fn survive(url: &str, times: usize, mut kill: impl FnMut(usize)) {
    let asking = Asking::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    let purchase = json!({"line": [{"material": linen, "paid": "10m", "price": "100"}]});
    assert_eq!(asking.post(url, "/v1/purchases", purchase).0, 201);
    let stop = AtomicBool::new(false);
    let report: Vec<Report> = thread::scope(|scope| {
        let stop = &stop;
        let clients: Vec<_> = (0..CLIENTS)
            .map(|number| scope.spawn(move || work(url, number, stop)))
            .collect();
        for time in 0..times {
            // Not in step with anything: between 20 and 420 ms.
            thread::sleep(Duration::from_millis(
                20 + u64::from(Uuid::now_v7().as_bytes()[15]) * 400 / 255,
            ));
            kill(time);
        }
        thread::sleep(Duration::from_millis(200));
        stop.store(true, Ordering::Relaxed);
        clients
            .into_iter()
            .flat_map(|client| client.join().unwrap())
            .collect()
    });
    asking.assert_sound(url);
    // Each request was booked once: asked again it gives the first answer, and there is no booking beside theirs.
    for Report {
        id,
        path,
        body,
        answer,
    } in &report
    {
        let (_, again) = asking.post_as(url, path, *id, body.clone());
        assert_eq!(again, *answer, "{path}");
    }
    let mut codes = BTreeSet::new();
    let mut after = String::from("start");
    loop {
        let page = asking.get(url, &format!("/v1/changes?limit=500&after={after}"));
        let changes = page["changes"].as_array().unwrap();
        codes.extend(
            changes
                .iter()
                .map(|change| change["booking"].as_str().unwrap().to_owned()),
        );
        after = page["next"].as_str().unwrap().to_owned();
        if changes.is_empty() {
            break;
        }
    }
    assert_eq!(
        codes.len(),
        report.len() + 1,
        "one booking a request, and the first purchase"
    );
    assert!(
        report.len() > times,
        "the clients got on with their work: {}",
        report.len()
    );
    let lot = asking.get(url, "/v1/lots/L1");
    assert_eq!(
        lot["pieces"][0]["reserved"],
        json!({"length_m": "0"}),
        "{lot}"
    );
    asking.assert_sound(url);
}

fn killing_the_server(place: &Place) {
    migrate(&place.url);
    let port = port();
    let mut server = Served::new(&place.url, port);
    let url = server.url.clone();
    survive(&url, rounds(10, 200), |_| {
        server.kill();
        server = Served::new(&place.url, port);
    });
}

#[test]
fn a_server_on_a_file_is_killed_again_and_again() {
    killing_the_server(&Place::sqlite());
}

#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_server_on_postgresql_is_killed_again_and_again() {
    killing_the_server(&Place::postgresql());
}

/// PostgreSQL itself goes and comes again; the server stays, and is not started anew.
#[needs::variable(TEST_POSTGRESQL_PROGRAMS)]
#[test]
fn postgresql_is_killed_again_and_again() {
    let cluster = Cluster::new();
    migrate(&cluster.url);
    let server = Served::new(&cluster.url, port());
    survive(&server.url.clone(), rounds(5, 200), |_| {
        cluster.kill();
        cluster.start();
    });
}

/// Asked to stop, a server leaves everything in the one file, whatever its threads were doing.
#[cfg(unix)]
#[test]
fn a_server_that_is_asked_to_stop_leaves_a_whole_file() {
    let place = Place::sqlite();
    migrate(&place.url);
    let asking = Asking::new();
    let elsewhere = Place::sqlite();
    let mut booked = 0;
    for _ in 0..rounds(8, 60) {
        let mut server = Served::new(&place.url, port());
        thread::scope(|scope| {
            for number in 0..3 {
                let (asking, url) = (&asking, &server.url);
                scope.spawn(move || {
                    let button = json!({"kind": "trim", "name": format!("button {number}")});
                    let body = json!({"line": [{"material": button, "paid": "6", "price": "3"}]});
                    assert_eq!(asking.post(url, "/v1/purchases", body).0, 201);
                    asking.get(url, "/v1/shelf");
                });
            }
        });
        booked += 3;
        assert_eq!(server.ask_to_stop(), Some(0));
        std::fs::copy(place.file("book.sqlite3"), elsewhere.file("book.sqlite3")).unwrap();
        let copy = Served::new(&elsewhere.url, port());
        let listed = asking.get(&copy.url, "/v1/bookings?limit=500");
        assert_eq!(listed["bookings"].as_array().unwrap().len(), booked);
        drop(copy);
        for ending in ["", "-wal", "-shm"] {
            let _ = std::fs::remove_file(elsewhere.file(&format!("book.sqlite3{ending}")));
        }
    }
}
