//! Lines by group and name, each as planned, quoted and booked.

use crate::desk::failure::Done;
use ellwand_domain::{
    costing::{CostItem, CostRow, Extent, Total, head},
    pricing::PriceGroup,
};

/// Which of the three columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Planned,
    Quoted,
    Actual,
}

/// A line, three times.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) cells: CostRow<3>,
    /// What is allowed instead of what was quoted, where the cloth became shorter since.
    pub(super) allowed: Option<Extent>,
    /// Quantities of both sides are of one kind of cloth in one state.
    pub(super) comparable: bool,
}

impl Line {
    pub(super) fn cell(&self, side: Side) -> Option<&CostItem> {
        self.cells.get(side as usize).and_then(Option::as_ref)
    }

    pub(super) fn head(&self) -> Option<&CostItem> {
        head(&self.cells)
    }

    pub(super) fn group(&self) -> Option<PriceGroup> {
        self.head().map(|item| item.group)
    }
}

/// All lines, in groups.
#[derive(Debug, Default)]
pub(super) struct Lines(pub(super) Vec<Line>);

impl Lines {
    /// Adds costs to their lines, which are made where there are none.
    pub(super) fn add(
        &mut self,
        side: Side,
        costs: impl IntoIterator<Item = CostItem>,
    ) -> Done<()> {
        for cost in costs {
            let same = |line: &&mut Line| {
                let own = line.head();
                own.is_some_and(|own| own.group == cost.group && own.name == cost.name)
            };
            let Some(line) = self.0.iter_mut().find(same) else {
                let mut cells = [None, None, None];
                let of = cost.group;
                if let Some(cell) = cells.get_mut(side as usize) {
                    *cell = Some(cost);
                }
                let end = self.0.iter().position(|line| line.group() > Some(of));
                let line = Line {
                    cells,
                    allowed: None,
                    comparable: true,
                };
                self.0.insert(end.unwrap_or(self.0.len()), line);
                continue;
            };
            match line.cells.get_mut(side as usize) {
                Some(Some(known)) => known.absorb(cost)?,
                Some(empty) => *empty = Some(cost),
                None => {}
            }
        }
        Ok(())
    }

    /// The costs of a column.
    pub(super) fn column(&self, side: Side) -> impl Iterator<Item = &CostItem> {
        self.0.iter().filter_map(move |line| line.cell(side))
    }

    /// What booked costs are printed as.
    pub(super) fn booked_mut(&mut self) -> impl Iterator<Item = &mut CostItem> {
        let [.., actual] = [Side::Planned, Side::Quoted, Side::Actual];
        self.0
            .iter_mut()
            .filter_map(move |line| line.cells.get_mut(actual as usize)?.as_mut())
    }

    pub(super) fn total(&self, side: Side) -> Done<Total> {
        Ok(Total::of(self.column(side))?)
    }

    /// Quoted beside booked, with what is allowed.
    pub(super) fn compared(&self) -> Vec<CostRow<2>> {
        let row = |line: &Line| {
            let mut quoted = line.cell(Side::Quoted).cloned();
            if let Some(quoted) = &mut quoted {
                let allowed = line.allowed.or(quoted.extent);
                quoted.extent = allowed.filter(|_| line.comparable);
            }
            [quoted, line.cell(Side::Actual).cloned()]
        };
        self.0.iter().map(row).collect()
    }
}
