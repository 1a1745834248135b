//! Rule 7: two people never both win the same cloth, whatever the timing and the number of servers.

use crate::{
    cluster::port,
    place::Place,
    served::{Asking, Served, migrate, rounds},
};
use serde_json::{Value, json};
use std::{sync::Barrier, thread};
use uuid::Uuid;

const CLIENTS: usize = 64;

/// 64 clients of two server processes want 1.00 m each of the last 10 m; each asks twice under one id, the second time as a
/// repeat. Ten get it and the others are reported what is left; nobody is reported no and given the cloth.
fn fight(database: &str) {
    migrate(database);
    let servers = [Served::new(database, port()), Served::new(database, port())];
    let asking = Asking::new();
    let url = |number: usize| servers[number % 2].url.as_str();
    for round in 1..=rounds(2, 20) {
        let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
        let purchase = json!({"line": [{"material": linen, "paid": "10m", "price": "100"}]});
        let (status, bought) = asking.post(url(0), "/v1/purchases", purchase);
        assert_eq!(status, 201, "{bought}");
        let piece = format!("{}.1", bought["lines"][0]["lot"].as_str().unwrap());
        // 0.96 m and an end allowance of 4 cm.
        let need = json!([{"role": "shell", "kind": "cloth", "length": "0.96m", "width": "140cm", "preparation": "none"}]);
        let garments: Vec<String> = (0..CLIENTS)
            .map(|number| {
                let (_, planned) = asking.post(
                    url(number),
                    "/v1/garments",
                    json!({"name": "vest", "need": need}),
                );
                planned["garment"].as_str().unwrap().to_owned()
            })
            .collect();
        let start = Barrier::new(CLIENTS * 2);
        let answers: Vec<(u16, Value)> = thread::scope(|scope| {
            let (start, asking, piece) = (&start, &asking, &piece);
            let ask = |garment: &str, server: usize, id: Uuid, repeat: bool| {
                let body =
                    json!({"garment": garment, "picks": [{"need": "shell", "piece": piece}]});
                scope.spawn(move || {
                    start.wait();
                    let send = if repeat {
                        Asking::repeat
                    } else {
                        Asking::post_as
                    };
                    send(asking, url(server), "/v1/reservations", id, body)
                })
            };
            let asked: Vec<_> = garments
                .iter()
                .enumerate()
                .map(|(number, garment)| {
                    let id = Uuid::now_v7();
                    (
                        ask(garment, number, id, false),
                        ask(garment, number + 1, id, true),
                    )
                })
                .collect();
            asked
                .into_iter()
                .map(|(first, second)| {
                    let (first, second) = (first.join().unwrap(), second.join().unwrap());
                    // The first sending's refusal is not kept: the repeat is judged anew. The repeat's own is final.
                    match (first.0 < 300, second.0 < 300) {
                        (true, true) => assert_eq!(first.1, second.1, "one id, two answers"),
                        (true, false) => panic!("booked, and refused to its repeat: {}", second.1),
                        (false, _) => {}
                    }
                    second
                })
                .collect()
        });
        let won = answers.iter().filter(|(status, _)| *status < 300).count();
        for (_, problem) in answers.iter().filter(|(status, _)| *status >= 300) {
            assert_eq!(
                (&problem["type"], &problem["status"]),
                (&json!("exceeds-available"), &json!(409)),
                "{problem}"
            );
        }
        assert_eq!(won, 10, "round {round}");
        let lot = asking.get(
            url(1),
            &format!("/v1/lots/{}", piece.trim_end_matches(".1")),
        );
        assert_eq!(
            (&lot["pieces"][0]["reserved"], &lot["pieces"][0]["free"]),
            (&json!({"length_m": "10"}), &json!({"length_m": "0"})),
            "{lot}"
        );
        asking.assert_sound(url(round));
    }
}

#[test]
fn sixty_four_clients_fight_for_the_last_cloth_in_a_file() {
    fight(&Place::sqlite().url);
}

#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn sixty_four_clients_fight_for_the_last_cloth_on_a_server() {
    fight(&Place::postgresql().url);
}
