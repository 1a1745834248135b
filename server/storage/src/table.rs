//! Tables as copying a book sees them.

/// How a column is written as text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    BigInt,
    Text,
    Bool,
    Date,
    Timestamp,
}

/// A column.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Column {
    pub(crate) name: &'static str,
    pub(crate) kind: Kind,
}

/// A table, its key and its columns.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Table {
    pub(crate) name: &'static str,
    pub(crate) key: &'static [&'static str],
    pub(crate) columns: &'static [Column],
}
