//! Tokens.

use crate::database::TestDatabase;
use crate::draft::{ADA, day, instant};
use ellwand_domain::setting::{Grant, Role};
use ellwand_storage::{StorageError, Token};

pub fn token(id: i64, role: Role) -> Token {
    Token {
        id,
        person_id: ADA,
        role,
        hash: format!("{id:064x}"),
        made_at: instant(5),
        made_by: "owner".into(),
        revoked_at: None,
        revoked_by: None,
        label: None,
        made_on: day(5),
        valid_until: None,
        used_on: None,
    }
}

pub fn a_token_is_read_as_written(book: &TestDatabase) {
    let roles = [Role::Owner, Role::Maker, Role::Viewer];
    let grants = [&[][..], Grant::ALL, &[Grant::Prices]];
    let all: Vec<Token> = (1..).zip(roles).map(|(id, role)| token(id, role)).collect();
    book.put(|tx| {
        let mut rows = all.iter().zip(grants).rev();
        rows.try_for_each(|(token, grants)| tx.insert_token(token, grants))
    });
    for (token, grants) in all.iter().zip(grants) {
        assert_eq!(book.get(|tx| tx.token_grants(token.id)), grants);
    }
    for row in ["(3, 'prices')", "(3, 'scissors')", "(9, 'prices')"] {
        crate::rules::refused(book, &format!("INSERT INTO token_grants VALUES {row}"));
    }
    let ada = book.get(|tx| tx.person(ADA)).unwrap();
    let whose = |token: &Token| (token.clone(), ada.clone());
    assert_eq!(
        book.get(|tx| tx.tokens()),
        all.iter().map(whose).collect::<Vec<_>>()
    );
    assert_eq!(book.get(|tx| tx.token(2)), all.get(1).map(whose));
    assert_eq!(
        book.get(|tx| tx.token_of_hash(&format!("{:064x}", 3))),
        all.get(2).map(whose)
    );
    assert_eq!(
        book.get(|tx| tx.token_of_hash(&format!("{:064x}", 4))),
        None
    );
}

pub fn a_token_is_taken_back_once(book: &TestDatabase) {
    book.put(|tx| tx.insert_token(&token(1, Role::Maker), &[]));
    book.put(|tx| tx.revoke_token(1, instant(6), "anna"));
    book.put(|tx| tx.revoke_token(1, instant(7), "bo"));
    let (gone, _) = book.get(|tx| tx.token(1)).unwrap();
    assert_eq!(
        (gone.revoked_at, gone.revoked_by.as_deref()),
        (Some(instant(6)), Some("anna"))
    );
}

pub fn a_hash_opens_one_token_and_has_its_length(book: &TestDatabase) {
    book.put(|tx| tx.insert_token(&token(1, Role::Owner), &[]));
    let refused = |token: Token| {
        let done = book.write(|tx| tx.insert_token(&token, &[]));
        assert!(matches!(done, Err(StorageError::Constraint(_))), "{done:?}");
    };
    refused(Token {
        hash: format!("{:064x}", 1),
        ..token(2, Role::Owner)
    });
    refused(Token {
        hash: "1".into(),
        ..token(2, Role::Owner)
    });
    refused(Token {
        person_id: 9,
        ..token(2, Role::Owner)
    });
    refused(Token {
        revoked_at: Some(instant(6)),
        ..token(2, Role::Owner)
    });
    refused(Token {
        label: Some(String::new()),
        ..token(2, Role::Owner)
    });
    refused(Token {
        valid_until: Some(day(4)),
        ..token(2, Role::Owner)
    });
    refused(Token {
        valid_until: Some(day(9)),
        used_on: Some(day(10)),
        ..token(2, Role::Owner)
    });
}

pub fn the_last_day_of_use_is_kept(book: &TestDatabase) {
    let ends = Token {
        label: Some("tablet".into()),
        valid_until: Some(day(9)),
        ..token(1, Role::Maker)
    };
    book.put(|tx| tx.insert_token(&ends, &[]));
    for used in [6, 8, 7] {
        book.put(|tx| tx.use_token(1, day(used)));
    }
    let (kept, _) = book.get(|tx| tx.token(1)).unwrap();
    assert_eq!(
        kept,
        Token {
            used_on: Some(day(8)),
            ..ends
        }
    );
}
