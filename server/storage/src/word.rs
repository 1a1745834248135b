//! Words of the domain's closed lists in TEXT columns.

use diesel::{
    backend::Backend,
    deserialize::{self, FromSql, FromSqlRow},
    expression::AsExpression,
    serialize::{self, IsNull, Output, ToSql},
    sql_types::Text,
};
use serde::{Deserialize, Serialize};
use std::{error::Error, fmt, ops::Deref, str::FromStr};

/// A word of a closed list, stored as its text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, AsExpression, FromSqlRow, Serialize, Deserialize)]
#[serde(transparent)]
#[diesel(sql_type = Text)]
pub struct Word<T: fmt::Debug>(pub T);

impl<T: fmt::Debug> Deref for Word<T> {
    type Target = T;
    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: fmt::Debug> From<T> for Word<T> {
    fn from(word: T) -> Self {
        Self(word)
    }
}

impl<T, DB> FromSql<Text, DB> for Word<T>
where
    T: fmt::Debug + FromStr<Err: Error + Send + Sync + 'static>,
    DB: Backend,
    String: FromSql<Text, DB>,
{
    fn from_sql(bytes: DB::RawValue<'_>) -> deserialize::Result<Self> {
        Ok(Self(String::from_sql(bytes)?.parse()?))
    }
}

impl<T: fmt::Debug + fmt::Display> ToSql<Text, diesel::sqlite::Sqlite> for Word<T> {
    fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, diesel::sqlite::Sqlite>) -> serialize::Result {
        out.set_value(self.0.to_string());
        Ok(IsNull::No)
    }
}

#[cfg(feature = "postgresql")]
impl<T: fmt::Debug + fmt::Display> ToSql<Text, diesel::pg::Pg> for Word<T> {
    fn to_sql<'b>(&'b self, out: &mut Output<'b, '_, diesel::pg::Pg>) -> serialize::Result {
        use std::io::Write;
        out.write_all(self.0.to_string().as_bytes())?;
        Ok(IsNull::No)
    }
}

/// What a booking touched, for the history of a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// A garment.
    Garment,
    /// A lot.
    Lot,
    /// A purchase.
    Purchase,
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Garment => "garment",
            Self::Lot => "lot",
            Self::Purchase => "purchase",
        })
    }
}

/// A word that is not a subject.
#[derive(Debug, thiserror::Error)]
#[error("\"{0}\" is not a subject of a booking")]
pub struct SubjectError(String);

impl FromStr for Subject {
    type Err = SubjectError;
    fn from_str(text: &str) -> Result<Self, SubjectError> {
        match text {
            "garment" => Ok(Self::Garment),
            "lot" => Ok(Self::Lot),
            "purchase" => Ok(Self::Purchase),
            _ => Err(SubjectError(text.to_owned())),
        }
    }
}
