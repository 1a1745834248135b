//! Shell and interlining together: least rigidity, and whether they shrink alike.

use super::Known;
use crate::{
    desk::failure::Done,
    garments::need::{Along, NeedRecord, load_needs},
    promises::{self, fit::shrinkage_of},
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_domain::{
    code::LotCode,
    quantity::PartsPerMillion,
    setting::{Grain, Kind},
    shrinkage::{Alike, Preparation, layers_alike},
    stiffness::{decimal_unm, layers_that_slip},
};
use ellwand_storage::{Garment, Tx};

/// The role whose cloth an interlining is put to.
const SHELL: &str = "shell";

/// How what is sewn in is pre-shrunk (laundering: sewing.org; chest canvas is soaked first: Anderson & Sheppard notebook, 6 Sep
/// 2010).
const SEWN_IN: &str = "wash it as the garment will be washed, or soak canvas, and let it dry flat";
/// How a fusible is pre-shrunk (sewing.org).
const FUSIBLE: &str = "soak it in hot water and hang it to dry";
/// Whoever soaks and fuses learns that it is hot.
const HOT: &str = "hot water, steam and a fusing press burn: keep to the maker's heat and time, and try a scrap of both \
                   layers first (for planning only)";

/// What a layer still shrinks once it is cut, by direction; nothing where that is unknown.
#[derive(Debug, Clone, Copy)]
struct Shrinks {
    lengthwise: Option<PartsPerMillion>,
    crosswise: Option<PartsPerMillion>,
}

impl Shrinks {
    const NOTHING: Self = Self {
        lengthwise: Some(PartsPerMillion::ZERO),
        crosswise: Some(PartsPerMillion::ZERO),
    };

    const fn along(self, grain: Grain) -> Option<PartsPerMillion> {
        match grain {
            Grain::Lengthwise | Grain::Bias => self.lengthwise,
            Grain::Crosswise => self.crosswise,
        }
    }
}

/// The cloth that an interlining will be put to.
pub(crate) struct Shell {
    lot: LotCode,
    known: Known,
    grain: Option<Grain>,
    shrinks: Shrinks,
}

/// The shell of a garment: the one lot its need has cloth of, is promised or insists on; nothing where that is open.
pub(crate) fn shell_of(tx: &mut Tx<'_>, garment: &Garment) -> Done<Option<Shell>> {
    let needs = load_needs(tx, garment)?;
    let cloth = || needs.iter().filter(|need| need.row.kind == Kind::Cloth);
    let named = cloth().find(|need| need.row.role.eq_ignore_ascii_case(SHELL));
    let only = cloth().next().filter(|_| cloth().count() == 1);
    let Some(need) = named.or(only) else {
        return Ok(None);
    };
    let mut lots = promises::lots_of_role(tx, garment.id, &need.row.role)?;
    if lots.is_empty() {
        lots.extend(need.plan.conditions.lot.map(LotCode::get));
    }
    let [lot] = lots[..] else { return Ok(None) };
    let record = LotRecord::load(tx, lot)?;
    Ok(Some(Shell {
        lot: record.code(),
        known: Known::of(&record.sheet),
        grain: need.only_grain(),
        shrinks: shrinks(tx, &record, need, None)?,
    }))
}

/// What a lot still shrinks when a need has been cut from it: nothing once it is washed or steamed before.
fn shrinks(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    need: &NeedRecord,
    done: Option<Preparation>,
) -> Done<Shrinks> {
    let prepared = |preparation: Preparation| !preparation.is_nothing();
    if done.is_some_and(prepared) || need.plan.cloth().preparation.is_some_and(prepared) {
        return Ok(Shrinks::NOTHING);
    }
    Ok(
        match shrinkage_of(tx, record, Preparation::Washed { times: 1 })? {
            Ok(chosen) => Shrinks {
                lengthwise: Some(chosen.length.shrinkage_ppm()),
                crosswise: chosen.width.map(|width| width.shrinkage_ppm()),
            },
            Err(_) => Shrinks {
                lengthwise: None,
                crosswise: None,
            },
        },
    )
}

/// What is to be said of an interlining on its shell.
pub(crate) fn notes(
    tx: &mut Tx<'_>,
    need: &NeedRecord,
    shelved: &Shelved,
    shell: &Shell,
) -> Done<Vec<String>> {
    let mut notes = together(need, &shelved.record, shell);
    let own = shrinks(tx, &shelved.record, need, shelved.stored.preparation)?;
    for Along { grain, .. } in need.grains() {
        for note in apart(&shelved.record, grain, own, shell) {
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
    }
    Ok(notes)
}

/// The sum of both rigidities along the parts, grain by grain.
pub(super) fn together(need: &NeedRecord, record: &LotRecord, shell: &Shell) -> Vec<String> {
    let of = |along: Along| {
        Some(format!(
            "{}{}",
            along.of,
            summed(along.grain?, record, shell)?
        ))
    };
    need.grains().into_iter().filter_map(of).collect()
}

/// The sum of both rigidities along a part.
fn summed(grain: Grain, record: &LotRecord, shell: &Shell) -> Option<String> {
    let known = Known::of(&record.sheet);
    let along = known.along(grain)?;
    if shell.known.is_unknown() {
        return None;
    }
    let Some(shell_grain) = shell.grain else {
        return Some(format!(
            "with the shell, {}: unknown, since the shell's need gives no grain",
            shell.lot
        ));
    };
    let Some(of_shell) = shell.known.along(shell_grain) else {
        return Some(format!(
            "with the shell, {}: its stiffness {shell_grain} is unknown",
            shell.lot
        ));
    };
    let sum = layers_that_slip(along.rigidity_nnm, of_shell.rigidity_nnm).ok()?;
    let fused = if record.sheet.fusible == Some(true) {
        "; fused to it, it is stiffer"
    } else {
        ""
    };
    let computed = if along.band_nnm.is_some() || of_shell.band_nnm.is_some() {
        ", the bias computed"
    } else {
        ""
    };
    Some(format!(
        "with the shell, {}: {} + {} = {} µN·m along the part at least, for layers that can slip{computed}{fused}",
        shell.lot,
        decimal_unm(along.rigidity_nnm),
        decimal_unm(of_shell.rigidity_nnm),
        decimal_unm(sum)
    ))
}

/// Warns where the layers shrink differently, with what to pre-shrink.
fn apart(record: &LotRecord, grain: Option<Grain>, own: Shrinks, shell: &Shell) -> Vec<String> {
    let mut notes = Vec::new();
    // Cut on the other grain than the shell, what lies along the shell's warp is the interlining's weft.
    let crossed = matches!(
        (grain, shell.grain),
        (Some(Grain::Crosswise), Some(Grain::Lengthwise))
            | (Some(Grain::Lengthwise), Some(Grain::Crosswise))
    );
    let (mut unknown, mut hot) = (false, false);
    for direction in [Grain::Lengthwise, Grain::Crosswise] {
        let of_own = match (crossed, direction) {
            (false, direction) => direction,
            (true, Grain::Lengthwise) => Grain::Crosswise,
            (true, Grain::Crosswise | Grain::Bias) => Grain::Lengthwise,
        };
        let Some((ours, shells)) = own.along(of_own).zip(shell.shrinks.along(direction)) else {
            unknown = true;
            continue;
        };
        let (apart, stop) = match layers_alike(ours, shells) {
            Alike::Yes => continue,
            Alike::Apart(apart) => (apart, ""),
            Alike::FarApart(apart) => (apart, "; above 2 points leave them apart until then"),
        };
        let (what, how) = if ours > shells {
            let how = match record.sheet.fusible {
                Some(true) => FUSIBLE,
                Some(false) => SEWN_IN,
                None => {
                    "wash it if it is sewn in, soak it in hot water and hang it to dry if it is fusible (enter which: \
                     ellwand lot edit LOT --fusible yes, or no)"
                }
            };
            hot |= record.sheet.fusible != Some(false);
            (record.code(), how)
        } else {
            (shell.lot, "wash it as the garment will be washed")
        };
        notes.push(format!(
            "shrinks {ours} {of_own} where the shell, {}, shrinks {shells} {direction}: {} points apart, \
             1 is the limit (common practice); pre-shrink {what} before cutting: {how}{stop}",
            shell.lot,
            apart.decimal(),
        ));
    }
    if hot {
        notes.push(HOT.to_owned());
    }
    if unknown {
        notes.push(format!(
            "whether it shrinks like the shell, {}, is unknown: test a swatch of both in both directions",
            shell.lot
        ));
    }
    notes
}
