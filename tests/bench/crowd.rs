//! A book with one lot and many garments, and 16 clients of its server.

use crate::client::Client;
use ellwand_contract::{garments::PlanGarment, purchases::Buy};
use ellwand_service::{Book, Caller, Perform};
use serde_json::{Value, json};
use std::{
    net::SocketAddr,
    thread,
    time::{Duration, Instant},
};
use uuid::Uuid;

pub const CLIENTS: usize = 16;

fn ask<A: Perform>(book: &Book, request: Value) {
    let act: A = serde_json::from_value(request).expect("the request is well formed");
    book.call(&Caller::owner("owner"), &act)
        .expect("the act is accepted");
}

/// One lot of linen, and garments that each need some of it.
pub fn fill(book: &Book, garments: usize) {
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm",
        "shrinkage": {"length": "5%", "width": "2%"}});
    let line = json!([{"material": linen, "paid": "4000m", "price": "40000"}]);
    ask::<Buy>(book, json!({"id": Uuid::now_v7(), "line": line}));
    let need = json!([{"role": "shell", "kind": "cloth", "length": "2.6m", "width": "140cm", "preparation": "washed"}]);
    for _ in 0..garments {
        ask::<PlanGarment>(
            book,
            json!({"id": Uuid::now_v7(), "name": "dress", "need": need}),
        );
    }
}

/// Reserves for a garment, and releases.
pub fn pair(client: &mut Client, garment: usize) {
    let garment = format!("G{garment}");
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    let reserve = json!({"id": Uuid::now_v7(), "garment": garment, "picks": picks});
    client.post("/v1/reservations", &reserve.to_string());
    let release = json!({"id": Uuid::now_v7(), "garment": garment});
    client.post("/v1/reservations/release", &release.to_string());
}

/// 16 clients at once, each as often as it can for a turn: how long each time took, and all of them together.
pub fn crowd(
    server: SocketAddr,
    turn: Duration,
    once: impl Fn(&mut Client) + Sync,
) -> (Vec<Duration>, Duration) {
    let begun = Instant::now();
    let times = thread::scope(|scope| {
        let clients: Vec<_> = (0..CLIENTS)
            .map(|_| {
                let once = &once;
                scope.spawn(move || {
                    let mut client = Client::new(server);
                    let mut times = Vec::new();
                    while begun.elapsed() < turn {
                        let start = Instant::now();
                        once(&mut client);
                        times.push(start.elapsed());
                    }
                    times
                })
            })
            .collect();
        clients
            .into_iter()
            .flat_map(|client| client.join().expect("a client that lives"))
            .collect()
    });
    (times, begun.elapsed())
}

pub fn middle(mut numbers: Vec<f64>) -> f64 {
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied().unwrap_or_default()
}
