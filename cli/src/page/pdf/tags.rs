//! What the lines of a file belong to, so that it can be read aloud: titles, texts, lists, tables.

use krilla::tagging::{Identifier, ListNumbering, TableHeaderScope, Tag, TagGroup, TagTree};
use std::num::NonZeroU16;

/// A part of the file, by its place in [`Tags`].
pub(super) type Node = usize;

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// The name of the sheet.
    Title,
    /// A line over what follows.
    Heading,
    /// Running text.
    Text,
    /// A list of items.
    List,
    /// An item of a list.
    Item,
    /// A table of rows.
    Table,
    /// A row of cells.
    Row,
    /// A cell that names its column.
    Head,
    /// A cell.
    Cell,
}

/// All parts, each after the one that it is in.
#[derive(Default)]
pub(in crate::page) struct Tags {
    all: Vec<(Kind, Option<Node>)>,
    open: Vec<Node>,
}

impl Tags {
    /// Adds a part to the innermost one that is open.
    pub(super) fn add(&mut self, kind: Kind) -> Node {
        self.all.push((kind, self.open.last().copied()));
        self.all.len().saturating_sub(1)
    }

    /// Adds a part that holds what is added until [`Self::close`].
    pub(super) fn open(&mut self, kind: Kind) {
        let node = self.add(kind);
        self.open.push(node);
    }

    /// Ends the innermost part that is open.
    pub(super) fn close(&mut self) {
        self.open.pop();
    }

    /// The tree of all parts that hold something; `shown`: what stands on the pages of each.
    pub(super) fn tree(&self, shown: Vec<(Node, Identifier)>) -> TagTree {
        let group = |(kind, _): &(Kind, Option<Node>)| kind.group();
        let mut groups: Vec<Option<TagGroup>> =
            self.all.iter().map(|own| Some(group(own))).collect();
        for (node, identifier) in shown {
            if let Some(Some(group)) = groups.get_mut(node) {
                group.push(identifier);
            }
        }
        // Those within others come after them, so that from the end each is whole when it is put into the one that it is in.
        let mut roots = Vec::new();
        for (node, (kind, parent)) in self.all.iter().enumerate().rev() {
            let Some(mut group) = groups.get_mut(node).and_then(Option::take) else {
                continue;
            };
            if matches!(kind, Kind::List | Kind::Table | Kind::Row) {
                group.children.reverse();
            }
            if group.children.is_empty() {
                continue;
            }
            match parent.and_then(|parent| groups.get_mut(parent)) {
                Some(Some(parent)) => parent.push(group),
                _ => roots.push(group),
            }
        }
        let mut tree = TagTree::new();
        roots.into_iter().rev().for_each(|group| tree.push(group));
        tree
    }
}

impl Kind {
    fn group(self) -> TagGroup {
        let level = |level| NonZeroU16::new(level).unwrap_or(NonZeroU16::MIN);
        match self {
            Self::Title => TagGroup::new(Tag::Hn(level(1), None)),
            Self::Heading => TagGroup::new(Tag::Hn(level(2), None)),
            Self::Text => TagGroup::new(Tag::P),
            Self::List => TagGroup::new(Tag::L(ListNumbering::Disc)),
            Self::Item => TagGroup::new(Tag::LI),
            Self::Table => TagGroup::new(Tag::Table),
            Self::Row => TagGroup::new(Tag::TR),
            Self::Head => TagGroup::new(Tag::TH(TableHeaderScope::Column)),
            Self::Cell => TagGroup::new(Tag::TD),
        }
    }
}
