//! Changes of whole rows, as statements that stay prepared.
//!
//! diesel prepares its own `UPDATE` and `ON CONFLICT` anew each time, since it cannot know that they name the same columns
//! the next time; that takes longer than to run them. A change of a whole row names every column, whatever it holds.

use diesel::{
    backend::Backend,
    prelude::*,
    query_builder::{AstPass, Query, QueryFragment, QueryId},
    query_dsl::RunQueryDsl,
    serialize::ToSql,
    sql_types::{BigInt, HasSqlType, Text},
};

/// `UPDATE table SET set WHERE of`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Change<S, W> {
    pub(crate) table: &'static str,
    pub(crate) set: S,
    pub(crate) of: W,
}

/// `insert ON CONFLICT (key) DO UPDATE SET set`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Write<I, S> {
    pub(crate) insert: I,
    pub(crate) key: &'static str,
    pub(crate) set: S,
}

/// Takes numbers from a counter, and returns the one after them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Count<'a> {
    pub(crate) kind: &'a str,
    pub(crate) count: i64,
}

impl<DB: Backend, S: QueryFragment<DB>, W: QueryFragment<DB>> QueryFragment<DB> for Change<S, W> {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        out.push_sql("UPDATE ");
        out.push_identifier(self.table)?;
        out.push_sql(" SET ");
        self.set.walk_ast(out.reborrow())?;
        out.push_sql(" WHERE ");
        self.of.walk_ast(out)
    }
}

impl<DB: Backend, I: QueryFragment<DB>, S: QueryFragment<DB>> QueryFragment<DB> for Write<I, S> {
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        self.insert.walk_ast(out.reborrow())?;
        out.push_sql(" ON CONFLICT (");
        out.push_sql(self.key);
        out.push_sql(") DO UPDATE SET ");
        self.set.walk_ast(out)
    }
}

impl<DB> QueryFragment<DB> for Count<'_>
where
    DB: Backend + HasSqlType<BigInt> + HasSqlType<Text>,
    str: ToSql<Text, DB>,
    i64: ToSql<BigInt, DB>,
{
    fn walk_ast<'b>(&'b self, mut out: AstPass<'_, 'b, DB>) -> QueryResult<()> {
        out.push_sql("INSERT INTO counters (kind, next_number) VALUES (");
        out.push_bind_param::<Text, str>(self.kind)?;
        out.push_sql(", 1 + ");
        out.push_bind_param::<BigInt, i64>(&self.count)?;
        out.push_sql(") ON CONFLICT (kind) DO UPDATE SET next_number = counters.next_number + ");
        out.push_bind_param::<BigInt, i64>(&self.count)?;
        out.push_sql(" RETURNING next_number");
        Ok(())
    }
}

/// Known by their text.
macro_rules! statements {
    ($($name:ident<$($generic:tt),*>)*) => {$(
        impl<$($generic),*> QueryId for $name<$($generic),*> {
            type QueryId = ();
            const HAS_STATIC_QUERY_ID: bool = false;
        }
        impl<$($generic,)* Conn> RunQueryDsl<Conn> for $name<$($generic),*> {}
    )*};
}

statements! {
    Change<S, W>
    Write<I, S>
    Count<'a>
}

impl Query for Count<'_> {
    type SqlType = BigInt;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::counters;
    use diesel::connection::{InstrumentationEvent, SimpleConnection};
    use std::sync::{
        Arc,
        atomic::{AtomicUsize, Ordering},
    };

    #[test]
    fn each_is_prepared_once() {
        let mut conn = SqliteConnection::establish(":memory:").expect("a database");
        conn.batch_execute(
            "CREATE TABLE counters (kind TEXT PRIMARY KEY, next_number BIGINT NOT NULL)",
        )
        .expect("a table");
        let kept = Arc::new(AtomicUsize::new(0));
        let seen = Arc::clone(&kept);
        conn.set_instrumentation(move |event: InstrumentationEvent<'_>| {
            if matches!(event, InstrumentationEvent::CacheQuery { .. }) {
                seen.fetch_add(1, Ordering::Relaxed);
            }
        });
        for next in [3_i64, 5] {
            let next_number: i64 = Count {
                kind: "piece",
                count: 2,
            }
            .get_result(&mut conn)
            .expect("a number");
            assert_eq!(next_number, next);
        }
        for number in [7_i64, 8] {
            let new = counters::next_number.eq(number);
            let set = || new.as_changeset();
            let of = counters::kind.eq("piece");
            assert_eq!(
                Change {
                    table: "counters",
                    set: set(),
                    of
                }
                .execute(&mut conn)
                .expect("a change"),
                1
            );
            let insert =
                diesel::insert_into(counters::table).values((counters::kind.eq("lot"), new));
            Write {
                insert,
                key: "kind",
                set: set(),
            }
            .execute(&mut conn)
            .expect("a row");
        }
        assert_eq!(kept.load(Ordering::Relaxed), 3);
        let rows: Vec<(String, i64)> = counters::table
            .order(counters::kind)
            .load(&mut conn)
            .expect("rows");
        assert_eq!(rows, [("lot".to_owned(), 8), ("piece".to_owned(), 8)]);
    }
}
