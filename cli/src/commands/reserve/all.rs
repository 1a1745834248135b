//! `ellwand reserve --all`: shows the best pieces and asks.

use crate::{
    command_error::CommandError,
    commands::candidates::reasons,
    context::Context,
    pending::quoted,
    ui::{Shown, Table, Ui, paragraph, reservation},
};
use ellwand_contract::{
    Amount, Metres, Problem, ProblemType,
    garments::{Candidate, GetCandidates, NeedCandidates, Pick, SetLot},
};
use ellwand_domain::code::GarmentCode;

/// Kinds of reasons that a refusal gives, the most frequent first.
const REASONS: usize = 2;

/// The best pieces for all open needs, once shown and confirmed, with the remarks that were shown.
///
/// # Errors
/// A need that nothing on the shelf can serve, no, or no terminal to ask on.
pub fn picks(
    garment: GarmentCode,
    sums: bool,
    context: &mut Context<'_, '_>,
) -> Result<(Vec<Pick>, Vec<String>), CommandError> {
    let answer = context.call(&GetCandidates {
        garment,
        need: None,
    })?;
    let open: Vec<&NeedCandidates> = answer
        .needs
        .iter()
        .filter(|need| need.units_open > 0)
        .collect();
    if let Some(need) = open.iter().find(|need| need.picks.is_empty()) {
        return Err(unserved(garment, need).into());
    }
    let picks: Vec<Pick> = open
        .iter()
        .flat_map(|need| need.picks.iter().cloned())
        .collect();
    if picks.is_empty() {
        let problem = Problem::new(
            ProblemType::WrongState,
            format!("{garment} has no open needs"),
        );
        return Err(problem
            .hint(format!(
                "see its promises with ellwand garment show {garment}"
            ))
            .into());
    }
    let mut remarks = Vec::new();
    if !context.is_json() {
        let shown = context.shown()?;
        // What was confirmed beforehand is shown once, as it is booked.
        if !context.is_confirmed() {
            context.ui.table(&table(shown, &open));
        }
        remarks = remark(context.ui, &open, sums);
    }
    context.confirm(&format!("Reserve these for {garment}?"))?;
    Ok((picks, remarks))
}

fn unserved(garment: GarmentCode, need: &NeedCandidates) -> Problem {
    let NeedCandidates {
        role,
        amount,
        units_open,
        serve,
        ..
    } = need;
    if let Some(undecided) = &need.undecided {
        let advice = need.advice.as_deref().unwrap_or_default();
        return Problem::new(ProblemType::Unknown, undecided)
            .hint(format!("nothing was reserved; {advice}"))
            .with("need", role.as_str());
    }
    if !need.lots.is_empty() || !need.notes.is_empty() {
        return unfilled(garment, need);
    }
    if !serve.is_empty() {
        let pieces: Vec<String> = serve
            .iter()
            .map(|candidate| format!("{} for {}", candidate.piece, candidate.units))
            .collect();
        let detail = format!(
            "{garment} needs {amount} for its {role} ({units_open} to promise), and no single lot has enough: {}",
            pieces.join(", ")
        );
        let why = format!(
            "see why the other pieces do not suit with ellwand candidates {garment} --need {}",
            quoted(role)
        );
        let hint = format!(
            "nothing was reserved; {}",
            need.advice.as_deref().unwrap_or(&why)
        );
        return Problem::new(ProblemType::DoesNotServe, detail)
            .hint(hint)
            .with("need", role.as_str());
    }
    let reasons = reasons::kinds(&need.cannot).into_iter().take(REASONS);
    let why_not = match reasons.collect::<Vec<_>>().join("; ") {
        nothing if nothing.is_empty() => "there is none on the shelf".to_owned(),
        reasons => format!("nothing on the shelf suits it: {reasons}"),
    };
    let detail =
        format!("{garment} needs {amount} for its {role} ({units_open} to promise), and {why_not}");
    let why = format!("ellwand candidates {garment} --need {}", quoted(role));
    let hint = format!("nothing was reserved; see why: {why}");
    Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .with("need", role.as_str())
}

/// Counted trims that no lot can fill, with what each has.
fn unfilled(garment: GarmentCode, need: &NeedCandidates) -> Problem {
    let NeedCandidates {
        role,
        amount,
        units_open,
        lots,
        notes,
        ..
    } = need;
    let short =
        |lot: &SetLot| format!("{} has {} free, {} missing", lot.lot, lot.free, lot.missing);
    let mut reasons: Vec<String> = lots
        .iter()
        .filter(|lot| lot.missing > 0)
        .map(short)
        .collect();
    reasons.extend(notes.iter().cloned());
    let none = if lots.is_empty() {
        ""
    } else {
        "no single lot has enough: "
    };
    let detail = format!(
        "{garment} needs {amount} for its {role} ({units_open} to promise), and {none}{}",
        reasons.join("; ")
    );
    let why = format!("ellwand candidates {garment} --need {}", quoted(role));
    let advice = need
        .advice
        .as_ref()
        .map(|advice| format!("{advice}; "))
        .unwrap_or_default();
    let hint = format!("nothing was reserved; {advice}see what comes near with {why}");
    Problem::new(ProblemType::DoesNotServe, detail)
        .hint(hint)
        .with("need", role.as_str())
}

/// The candidate a pick takes from.
fn candidate<'n>(need: &'n NeedCandidates, pick: &Pick) -> Option<&'n Candidate> {
    need.serve
        .iter()
        .find(|candidate| candidate.piece == pick.piece)
}

fn table(shown: Shown, needs: &[&NeedCandidates]) -> Table {
    let mut table = Table::headed("need | piece | material | >units | >takes | place");
    for need in needs {
        for pick in &need.picks {
            table.row(row(shown, need, pick));
        }
    }
    table
}

/// Shows the remarks of the picks, and the sums where they are asked for, and gives the remarks back.
fn remark(ui: &mut Ui<'_>, needs: &[&NeedCandidates], sums: bool) -> Vec<String> {
    let mut remarks = Vec::new();
    // Needs that were chosen together have the same remarks.
    for note in needs.iter().flat_map(|need| &need.notes) {
        if !remarks.contains(note) {
            ui.blank();
            paragraph::show(ui, 0, note);
            remarks.push(note.clone());
        }
    }
    for need in needs {
        for (pick, candidate) in need
            .picks
            .iter()
            .filter_map(|pick| Some((pick, candidate(need, pick)?)))
        {
            if sums && !candidate.steps.is_empty() {
                ui.blank();
                reservation::sum(
                    ui,
                    &format!("{} from {}", need.role, pick.piece),
                    candidate.shrinkage.as_deref(),
                    &candidate.steps,
                );
            }
            for note in &candidate.notes {
                // Pieces of one set have the same remarks.
                if pick.units.is_none() && remarks.contains(note) {
                    continue;
                }
                let of = format!("{} from {}: {note}", need.role, pick.piece);
                paragraph::show(ui, 0, &of);
                remarks.push(note.clone());
            }
        }
    }
    if sums || !remarks.is_empty() {
        ui.blank();
    }
    remarks
}

fn row(shown: Shown, need: &NeedCandidates, pick: &Pick) -> [String; 6] {
    let found = candidate(need, pick);
    let text = |read: fn(&Candidate) -> Option<String>| found.and_then(read).unwrap_or_default();
    let units = pick.units.unwrap_or(need.units_open);
    let length = pick
        .washed_length
        .as_ref()
        .map(|length| Metres(length.value()));
    let share = pick
        .trims
        .map(Amount::Count)
        .or(length.map(Amount::LengthM));
    if let Some(share) = share {
        return [
            need.role.clone(),
            pick.piece.to_string(),
            text(|candidate| Some(candidate.name.clone())),
            String::new(),
            shown.taken(share),
            text(|candidate| candidate.place.clone()),
        ];
    }
    let takes = match found.map(|candidate| candidate.takes) {
        None | Some(Amount::Count(1)) => String::new(),
        Some(takes) if units == 1 => shown.taken(takes),
        Some(takes) => format!("{} each", shown.taken(takes)),
    };
    [
        need.role.clone(),
        pick.piece.to_string(),
        text(|candidate| Some(candidate.name.clone())),
        units.to_string(),
        takes,
        text(|candidate| candidate.place.clone()),
    ]
}
