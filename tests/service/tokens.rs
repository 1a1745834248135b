//! Tokens: who was let in, for how long, and who was kept out again.

use crate::book::{TestBook, ask};
use ellwand_contract::{
    ProblemType,
    bookings::{GetBooking, GetLastBooking, Undo},
    people::{CreateToken, GetSelf, ListTokens, RevokeToken, RevokeTokens, Secret, Token},
};
use ellwand_service::Book;
use serde_json::{Value, json};
use uuid::Uuid;

/// Lets someone in, and returns the secret.
fn let_in(book: &TestBook, mut asked: Value) -> Secret {
    let secret = Secret::make().unwrap();
    asked["hash"] = json!(secret.hash());
    book.ask::<CreateToken>(asked).unwrap();
    secret
}

fn tokens(book: &TestBook) -> Vec<Token> {
    book.ask::<ListTokens>(json!({})).unwrap().tokens
}

/// Being let in is taken back by a revocation; a revocation never is.
#[test]
fn who_was_let_in_is_kept_out_again_and_who_was_kept_out_stays_out() {
    let book = TestBook::new();
    for (person, digit) in [("anna", "a"), ("bo", "b")] {
        let asked = json!({"person": person, "role": "maker", "grants": ["pay-rates"], "hash": digit.repeat(64)});
        book.ask::<CreateToken>(asked).unwrap();
    }
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    assert_eq!(last.summary, "Let bo in with T2, as maker with pay-rates.");
    let undone = book.ask::<Undo>(json!({"booking": "B2"})).unwrap();
    assert_eq!(
        undone.notes,
        ["T2 is revoked: it never opens the book again"]
    );
    let revoked = |at: usize| {
        let tokens = book.ask::<ListTokens>(json!({})).unwrap().tokens;
        tokens.get(at).unwrap().revoked_at.is_some()
    };
    assert!(!revoked(0) && revoked(1));
    book.ask::<RevokeToken>(json!({"token": "T1"})).unwrap();
    // Once more is no booking.
    book.ask::<RevokeToken>(json!({"token": "T1"})).unwrap();
    for (booking, why) in [
        ("B4", "B4 revoked a token, and that stays"),
        ("B1", "T1 has been revoked since, by B4"),
    ] {
        let refused = book.ask::<Undo>(json!({"booking": booking})).unwrap_err();
        assert!(refused.detail.contains(why), "{refused:?}");
    }
    assert!(revoked(0));
    book.audit();
}

/// A label and a last day; on the day after it the door is shut. 12 October is the tests' today.
#[test]
fn a_token_opens_the_book_until_its_last_day() {
    let book = TestBook::new();
    let refused = book.ask::<CreateToken>(
        json!({"person": "anna", "role": "maker", "hash": "a".repeat(64), "until": "2026-10-11"}),
    );
    let refused = refused.unwrap_err();
    assert_eq!(refused.detail, "2026-10-11 is over: today is 2026-10-12");
    let asked = json!({"person": "anna", "role": "maker", "label": " workshop tablet ", "until": "2026-10-13"});
    let secret = let_in(&book, asked);
    let [made] = tokens(&book).try_into().unwrap();
    assert_eq!(
        json!([made.label, made.until, made.used_on]),
        json!(["workshop tablet", "2026-10-13", null])
    );
    book.handle(1).call_signed(&secret, &GetSelf {}).unwrap();
    let shut = book
        .handle(2)
        .call_signed(&secret, &GetSelf {})
        .unwrap_err();
    assert_eq!(
        (shut.kind, shut.detail.as_str()),
        (
            ProblemType::NotSignedIn,
            "the token T1 expired: 2026-10-13 was its last day"
        )
    );
    assert!(shut.hint.unwrap().contains("ellwand token create"));
    assert_eq!(json!(tokens(&book)[0].used_on), json!("2026-10-13"));
    book.audit();
}

/// The last use is a day: it is written once on a day, by whatever is asked first.
#[test]
fn a_token_is_noted_once_on_a_day() {
    let book = TestBook::new();
    let secret = let_in(&book, json!({"person": "anna", "role": "maker"}));
    let look = |handle: &Book| {
        for _ in 0..3 {
            handle.call_signed(&secret, &GetSelf {}).unwrap();
        }
        (handle.written().jobs, json!(tokens(&book)[0].used_on))
    };
    assert_eq!(look(&book.handle(0)), (1, json!("2026-10-12")));
    assert_eq!(look(&book.handle(0)), (0, json!("2026-10-12")));
    assert_eq!(look(&book.handle(1)), (1, json!("2026-10-13")));
}

/// All of a person go at once, in one booking; the last that an owner has stays, unless whoever has the book itself asks.
#[test]
fn all_tokens_of_a_person_are_revoked_together() {
    let book = TestBook::new();
    let owner = let_in(&book, json!({"person": "owner", "role": "owner"}));
    for _ in 0..2 {
        let _ = let_in(
            &book,
            json!({"person": "anna", "role": "maker", "same_person": true}),
        );
    }
    let gone = book.ask::<RevokeTokens>(json!({"person": "Anna"})).unwrap();
    assert_eq!(gone.tokens.len(), 2);
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    assert_eq!(
        (json!(last.booking), last.summary.as_str()),
        (json!("B4"), "Revoked T2, T3 of anna.")
    );
    let again = book
        .ask::<RevokeTokens>(json!({"person": "anna"}))
        .unwrap_err();
    assert_eq!(again.detail, "anna has no token that could be revoked");
    let handle = book.handle(0);
    let all = RevokeTokens {
        id: Uuid::now_v7(),
        person: "owner".to_owned(),
    };
    let kept = handle.call_signed(&owner, &all).unwrap_err();
    assert!(
        kept.detail.starts_with("T1 is the last owner's token"),
        "{kept:?}"
    );
    let undo: Undo =
        serde_json::from_value(json!({"id": Uuid::now_v7(), "booking": "B1"})).unwrap();
    let kept = handle.call_signed(&owner, &undo).unwrap_err();
    assert!(
        kept.detail.starts_with("T1 is the last owner's token"),
        "{kept:?}"
    );
    ask::<RevokeTokens>(&handle, json!({"person": "owner"})).unwrap();
    let shown = book.ask::<GetBooking>(json!({"booking": "B5"})).unwrap();
    assert_eq!(shown.summary, "Revoked T1 of owner.");
    book.audit();
}
