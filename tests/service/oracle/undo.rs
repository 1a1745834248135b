//! Whether an act can be undone, from the text of the rule alone:
//!
//! "Refused only where later acts rest on it: a taking from that piece or layer after what brought goods in or
//! changed their quantity or value; a length computed after a preparation or measure; the offcut used; the
//! garment finished or quoted; a value overwritten since (only the last standing booking that set it may be
//! undone); a result below what is promised or used. A later cut of the same piece does not block undoing a cut."

use super::acts::{Act, ActId, Leftover, PieceId};
use super::history::History;
use super::stock::Effect;

/// What the text says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It must be refused, because of that later act where one can be named.
    Refuse(Option<ActId>),
    /// It must be accepted.
    Accept,
    /// The text leaves it open.
    Open,
}

/// Judges undoing `act`.
pub fn verdict(history: &History, act: ActId) -> Verdict {
    if let Some(later) = resting_on(history, act) {
        return Verdict::Refuse(Some(later));
    }
    match history.without(act) {
        Err(_) => Verdict::Refuse(None),
        Ok(_) if is_open(history, act) => Verdict::Open,
        Ok(_) => Verdict::Accept,
    }
}

/// Whether a later charge lies on what the act moved: undoing the act must move the charge's share back too.
pub fn moves_a_charge(history: &History, act: ActId) -> bool {
    // What was cut wrongly at the garment counts, too: the charge looked where that was.
    let garment = match &history.acts[act] {
        Act::Finish { garment, .. } | Act::Cancel { garment, .. } => Some(*garment),
        _ => None,
    };
    let cuts = history
        .standing(0)
        .filter(|(_, cut)| matches!(cut, Act::Cut { garment: of, .. } if Some(*of) == garment));
    let mut mine = history.stock.effects[&act].lots.clone();
    mine.extend(cuts.flat_map(|(id, _)| history.stock.effects[&id].lots.clone()));
    matches!(
        history.acts[act],
        Act::Cut { .. } | Act::Leave { .. } | Act::Cancel { .. } | Act::Finish { .. }
    ) && history.standing(act + 1).any(|(id, later)| {
        matches!(later, Act::Charge { .. })
            && history.stock.effects[&id]
                .lots
                .iter()
                .any(|lot| mine.contains(lot))
    })
}

/// The first later act that rests on it.
fn resting_on(history: &History, act: ActId) -> Option<ActId> {
    let mine = &history.stock.effects[&act];
    let rests = |id: ActId, later: &Act| {
        takes_from(mine, &history.stock.effects[&id])
            || settles(&history.acts[act], mine, later)
            || overwrites(history, act, id)
            || needs(history, act, id)
    };
    history
        .standing(act + 1)
        .find(|(id, later)| rests(*id, later))
        .map(|(id, _)| id)
}

/// A taking from a piece or layer that the act brought or changed.
fn takes_from(mine: &Effect, theirs: &Effect) -> bool {
    theirs
        .taken
        .iter()
        .any(|place| mine.brought.contains(place))
        || theirs
            .taken_pieces
            .iter()
            .any(|piece| mine.pieces.contains(piece))
}

/// A garment that the act reached was finished, handed over or given up with what the act had put there.
fn settles(act: &Act, mine: &Effect, later: &Act) -> bool {
    match later {
        Act::Finish { garment, .. } | Act::Deliver { garment } => mine.garments.contains(garment),
        Act::Cancel { garment, .. } => {
            let put = matches!(
                act,
                Act::Cut { mistake: false, .. } | Act::Charge { .. } | Act::Cancel { .. }
            );
            put && mine.garments.contains(garment)
        }
        _ => false,
    }
}

/// The quantity that the act set was set again: a piece washed or measured since.
fn overwrites(history: &History, act: ActId, later: ActId) -> bool {
    let sets = |id: ActId| match &history.acts[id] {
        Act::Wash { piece, .. } | Act::Measure { piece, .. } => Some(*piece),
        _ => None,
    };
    let Some(piece) = sets(later) else {
        return false;
    };
    match &history.acts[act] {
        Act::Wash { .. } | Act::Measure { .. } => sets(act) == Some(piece),
        Act::Buy { .. } => piece.0 == act,
        Act::Cut { piece: cut, .. } | Act::Leave { piece: cut, .. } => {
            matches!(history.acts[later], Act::Wash { .. }) && *cut == piece
        }
        Act::Cancel { .. } => piece.0 == act,
        _ => false,
    }
}

/// The later act speaks of what the act made, or worked a length out from it.
fn needs(history: &History, act: ActId, later: ActId) -> bool {
    match &history.acts[later] {
        Act::Charge { purchase, .. } => *purchase == act,
        Act::Reserve { piece, garment, .. } => {
            let washed =
                matches!(&history.acts[act], Act::Wash { piece: washed, .. } if washed == piece);
            let stands = history
                .stock
                .pieces
                .get(piece)
                .is_some_and(|piece| piece.promised.contains_key(&later));
            stands && (*garment == act || washed || piece.0 == act)
        }
        Act::Work {
            garment, person, ..
        } => *garment == act || *person == act,
        Act::Pay { person, .. } => *person == act,
        Act::Cut { garment, .. } | Act::Finish { garment, .. } => *garment == act,
        Act::Cancel { garment, leftover } => *garment == act || *leftover == Leftover::Into(act),
        _ => false,
    }
}

/// Cases that the text does not decide.
fn is_open(history: &History, act: ActId) -> bool {
    let later_on =
        |pick: &dyn Fn(&Act) -> bool| history.standing(act + 1).any(|(_, later)| pick(later));
    let promised = |on: PieceId| {
        later_on(&|later| matches!(later, Act::Reserve { piece, .. } if *piece == on))
    };
    match &history.acts[act] {
        // A count after the cut may or may not have seen what was cut; a mistake at a garment given up since.
        Act::Cut {
            piece,
            garment,
            mistake,
            ..
        } => later_on(&|later| match later {
            Act::Measure { piece: counted, .. } => counted == piece,
            Act::Cancel {
                garment: given_up, ..
            } => *mistake && given_up == garment,
            _ => false,
        }),
        Act::Leave { piece, .. } => later_on(
            &|later| matches!(later, Act::Measure { piece: counted, .. } if counted == piece),
        ),
        // Rates that hours rest on; hours of a garment given up since.
        Act::Pay { .. } | Act::Overhead { .. } => later_on(&|later| {
            matches!(
                later,
                Act::Work { .. } | Act::Pay { .. } | Act::Overhead { .. } | Act::Finish { .. }
            )
        }),
        Act::Work { garment, .. } => {
            later_on(&|later| matches!(later, Act::Cancel { garment: of, .. } if of == garment))
        }
        Act::Plan { .. } | Act::Person { .. } => true,
        // A promise that ended otherwise since.
        Act::Reserve { garment, .. } => later_on(&|later| match later {
            Act::Release { reservation } => *reservation == act,
            Act::Cancel { garment: of, .. } | Act::Finish { garment: of, .. } => of == garment,
            _ => false,
        }),
        // Promises on the piece that were given back since, or that do not rest on a length.
        Act::Buy { lines, .. } => (0..lines.len()).any(|line| promised(PieceId(act, line))),
        Act::Wash { piece, .. } | Act::Measure { piece, .. } => promised(*piece),
        _ => false,
    }
}
