//! How far a need is filled: what is promised to it and what was cut for it, counted by one rule of the domain.

use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
};
use ellwand_domain::{
    code::{GarmentCode, LotCode, ReservationCode},
    need::{Begun, Filling, Share},
    setting::CutReason,
};
use ellwand_storage::{Need, Reservation, StandingCut, StandingPromise, Tx};
use std::collections::BTreeMap;

/// Promises and cuts of a garment, as they are counted.
pub(crate) struct Standing {
    promises: Vec<StandingPromise>,
    cuts: Vec<StandingCut>,
}

impl Standing {
    /// Reads them; promises whose last day was before `today` are none any more, whether a write has ended them or not.
    pub(crate) fn read(desk: &mut Desk<'_>, garment: i64) -> Done<Self> {
        let today = desk.context.today;
        let mut promises = desk.tx.standing_promises(garment)?;
        promises.retain(|promise| promise.row.until.is_none_or(|day| day >= today));
        Ok(Self {
            promises,
            cuts: desk.tx.standing_cuts(garment)?,
        })
    }

    /// How far a need of the garment is filled.
    pub(crate) fn of(&self, need: &NeedRecord) -> Done<Filled> {
        let own = |promise: &&StandingPromise| promise.row.need_id == need.row.id;
        let promises: Vec<&StandingPromise> = self.promises.iter().filter(own).collect();
        let of_need = |cut: &&StandingCut| cut.cut.need_id == need.row.id;
        let cuts: Vec<&StandingCut> = self.cuts.iter().filter(of_need).collect();
        Filled::count(need, &promises, &cuts)
    }
}

/// How far a need is filled.
pub(crate) struct Filled {
    /// Its promises, in the order they were made.
    pub(crate) active: Vec<Reservation>,
    filling: Filling,
    /// The line of promises behind each share that has one.
    lines: Vec<Option<i64>>,
    lots: Vec<i64>,
    /// Lots that a share is promised from.
    shared: Vec<i64>,
    /// Pieces that gave it a unit, or part of one.
    pieces: Vec<i64>,
}

impl Filled {
    /// How far one need is filled.
    pub(crate) fn read(desk: &mut Desk<'_>, need: &NeedRecord) -> Done<Self> {
        Standing::read(desk, need.row.garment_id)?.of(need)
    }

    fn count(
        need: &NeedRecord,
        promises: &[&StandingPromise],
        cuts: &[&StandingCut],
    ) -> Done<Self> {
        let mut lines: Vec<Option<i64>> = Vec::new();
        let mut shares: Vec<Share> = Vec::new();
        let mut lots = Vec::new();
        let mut cut_of: BTreeMap<i64, i64> = BTreeMap::new();
        for cut in cuts {
            if let Some(line) = cut.line() {
                let sum = cut_of.entry(line).or_default();
                *sum = sum.saturating_add(cut.cut.fills);
            }
        }
        for StandingPromise { row, lot } in promises.iter().copied() {
            lots.push(*lot);
            let asked = super::Asked::read(row)?;
            let size = need.size_on(row.lay_id, asked.usable_um)?;
            let cut = cut_of.remove(&row.line()).unwrap_or(0);
            lines.push(Some(row.line()));
            shares.push(Share {
                piece: row.piece_id,
                lot: *lot,
                size,
                width: asked.usable_um,
                cut,
                promised: left(row, size, cut),
            });
        }
        let mut pieces = Vec::new();
        for StandingCut { cut, .. } in cuts.iter().copied() {
            if cut.reason == CutReason::Planned {
                lots.push(cut.lot_id);
            }
            if cut.fills > 0 {
                pieces.push(cut.piece_id);
            }
        }
        // What was cut from promises that have ended, each line together, and without a promise, each cut alone.
        for cut in cuts.iter().copied() {
            let fills = match cut.line() {
                Some(line) => cut_of.remove(&line),
                None => Some(cut.cut.fills),
            };
            if let Some(fills) = fills.filter(|fills| *fills > 0) {
                lines.push(None);
                shares.push(Share {
                    piece: cut.cut.piece_id,
                    lot: cut.cut.lot_id,
                    size: need.size_on(cut.cut.lay_id, cut.cut.width_um)?,
                    width: cut.cut.width_um,
                    cut: fills,
                    promised: 0,
                });
            }
        }
        lots.sort_unstable();
        lots.dedup();
        Ok(Self {
            active: promises.iter().map(|promise| promise.row.clone()).collect(),
            filling: Filling::of(need.row.units, need.joining(), &shares),
            lines,
            lots,
            shared: promises
                .iter()
                .filter(|promise| promise.row.share.is_some())
                .map(|promise| promise.lot)
                .collect(),
            pieces,
        })
    }

    /// Units that are neither cut nor promised whole.
    pub(crate) const fn open(&self) -> i64 {
        self.filling.open
    }

    /// Units that are cut.
    pub(crate) const fn cut(&self) -> i64 {
        self.filling.cut
    }

    /// Units that promises fill.
    pub(crate) fn promised(&self) -> i64 {
        self.filling.promised.iter().sum()
    }

    /// Units that a promise fills with what is cut and promised before it.
    pub(crate) fn units_of(&self, row: &Reservation) -> i64 {
        let at = self.lines.iter().position(|line| *line == Some(row.line()));
        at.and_then(|at| self.filling.promised.get(at))
            .copied()
            .unwrap_or(0)
    }

    /// Units that are begun and lack something.
    pub(crate) fn begun(&self) -> &[Begun] {
        &self.filling.begun
    }

    /// The unit that was begun of a lot, or of any where lots may be mixed in it.
    pub(crate) fn begun_of(&self, need: &NeedRecord, lot: i64) -> Option<&Begun> {
        let any = need.plan.conditions.mixing && !need.counted;
        self.begun().iter().find(|begun| any || begun.lot == lot)
    }

    /// Lots that it was cut from as planned and not given back, or is promised.
    pub(crate) fn lots(&self) -> &[i64] {
        &self.lots
    }

    /// True where a share of a unit is promised from that lot.
    pub(crate) fn has_share_of(&self, lot: i64) -> bool {
        self.shared.contains(&lot)
    }

    /// The newest share that is promised from a lot.
    pub(crate) fn last_share_of(&self, lot: i64) -> Option<&Reservation> {
        let shared = self.shared.iter().rposition(|shared| *shared == lot)?;
        let mut shares = self.active.iter().filter(|row| row.share.is_some());
        shares.nth(shared)
    }

    /// The promise of the need that lies on a piece.
    pub(crate) fn promise_on(&self, piece: i64) -> Option<&Reservation> {
        self.active.iter().find(|row| row.piece_id == piece)
    }

    /// True once anything of it is cut.
    pub(crate) const fn is_cut_into(&self) -> bool {
        !self.pieces.is_empty()
    }

    /// True when a cut of the piece serves it.
    pub(crate) fn has_cut_of(&self, piece: i64) -> bool {
        self.pieces.contains(&piece)
    }

    /// What is to be said of units that lack something.
    pub(crate) fn notes(&self, context: &Context<'_>, need: &NeedRecord) -> Done<Vec<String>> {
        let begun = self.begun().iter();
        let mut notes = begun
            .map(|begun| self.lacking(context, need, begun))
            .collect::<Done<Vec<_>>>()?;
        if self.filling.beyond > 0 {
            notes.push(format!(
                "the {} was cut for {} more than planned",
                need.row.role, self.filling.beyond
            ));
        }
        Ok(notes)
    }

    /// A unit that lacks something, in words.
    pub(crate) fn lacking(
        &self,
        context: &Context<'_>,
        need: &NeedRecord,
        begun: &Begun,
    ) -> Done<String> {
        let (garment, lot) = (
            GarmentCode::new(need.row.garment_id),
            LotCode::new(begun.lot),
        );
        let shares: Vec<String> = self
            .active
            .iter()
            .filter(|row| row.share.is_some())
            .map(|row| ReservationCode::new(row.id).to_string())
            .collect();
        let otherwise = match shares.is_empty() {
            true => "or take the cut back".to_owned(),
            false => format!("or release {}", shares.join(", ")),
        };
        let role = &need.row.role;
        let [have, of, missing] = [
            begun.have,
            begun.have.saturating_add(begun.missing),
            begun.missing,
        ]
        .map(|share| need.share_text(context, share));
        let (have, of, missing) = (have?, of?, missing?);
        let (set, have_it, of_lot) = match need.counted {
            true => ("set incomplete", "have", format!(", all of {lot}")),
            false => ("not all of it", "has", String::new()),
        };
        let more = match need.counted || !need.plan.conditions.mixing {
            true => format!("{missing} more of {lot}"),
            false => format!("{missing} more"),
        };
        Ok(format!(
            "{set}: the {role} of {garment} {have_it} {have} of {of}{of_lot}; promise {more} (ellwand candidates {garment}), {otherwise}"
        ))
    }
}

/// What is left of a promise when so much of it is cut.
pub(super) fn left(row: &Reservation, size: i64, cut: i64) -> i64 {
    let all = row
        .share
        .unwrap_or_else(|| row.lengths.saturating_mul(size));
    all.saturating_sub(cut).max(0)
}

/// Lots that a garment's role was cut from and not given back, or is promised.
pub(crate) fn lots_of_role(tx: &mut Tx<'_>, garment: i64, role: &str) -> Done<Vec<i64>> {
    // A garment has one need of a role.
    let needs = tx.needs(garment)?;
    match needs.iter().find(|need| need.role == role) {
        Some(need) => lots_of_need(tx, need),
        None => Ok(Vec::new()),
    }
}

/// Lots that a need was cut from as planned and not given back, or is promised, whatever the day.
pub(crate) fn lots_of_need(tx: &mut Tx<'_>, need: &Need) -> Done<Vec<i64>> {
    let promises = tx.standing_promises(need.garment_id)?.into_iter();
    let promised = promises.filter(|promise| promise.row.need_id == need.id);
    let mut lots: Vec<i64> = promised.map(|promise| promise.lot).collect();
    let mut cuts = tx.cuts_of_need(need.id)?;
    cuts.retain(|cut| cut.reason == CutReason::Planned);
    lots.extend(cuts.into_iter().map(|cut| cut.lot_id));
    lots.sort_unstable();
    lots.dedup();
    Ok(lots)
}
