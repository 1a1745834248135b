//! Seams and their thread on the screen.

use super::{Shown, Table, Ui, headed, left, paragraph};
use ellwand_contract::seams::{Seam, Seams};
use rust_decimal::{Decimal, RoundingStrategy};

/// The seams, the sums behind them, and what each thread comes to.
pub fn show(ui: &mut Ui<'_>, shown: Shown, answer: &Seams) {
    if let (Some(code), Some(name)) = (answer.garment, &answer.name) {
        ui.heading(format!("{code} {name}: seams of one"));
    }
    ui.table(&table(shown, answer));
    ui.blank();
    ui.heading("The working");
    for seam in &answer.seams {
        let basis = if seam.basis.is_empty() {
            String::new()
        } else {
            format!(" ({})", seam.basis)
        };
        let shared = seam
            .shared
            .as_ref()
            .map(|shared| format!("; needle:under {shared}"))
            .unwrap_or_default();
        paragraph::show(
            ui,
            2,
            &format!("{}: {}{basis}{shared}", label(seam), seam.step),
        );
    }
    for thread in &answer.threads {
        ui.blank();
        ui.heading(format!("{}: {}", thread.role, shown.thread(thread.total_m)));
        for step in &thread.steps {
            paragraph::show(ui, 2, step);
        }
    }
    ui.notes(&answer.notes);
}

fn label(seam: &Seam) -> String {
    if seam.seam.name.is_empty() {
        seam.stitch_name.clone()
    } else {
        seam.seam.name.clone()
    }
}

/// Whether seams take more than one thread, so that each must be named.
fn several_roles(answer: &Seams) -> bool {
    let of = |seam: &Seam| std::iter::once(seam.needle.clone()).chain(seam.under.clone());
    let mut roles = answer.seams.iter().flat_map(of);
    let first = roles.next();
    roles.any(|role| Some(role) != first)
}

fn table(shown: Shown, answer: &Seams) -> Table {
    let columns = headed("seam | stitch | >length | >m per m | known");
    let named = several_roles(answer);
    // A column without a text in it is left out.
    let role = |text: &str| {
        if named {
            text.to_owned()
        } else {
            String::new()
        }
    };
    let threads = match named {
        true => headed("needle | > | under | >"),
        false => headed("| >needle |  | >under"),
    };
    let details = answer.seams.iter().any(|seam| seam.seam.detail.is_some());
    let detail = details.then(|| left("detail"));
    let mut table = Table::new(columns.into_iter().chain(threads).chain(detail));
    for seam in &answer.seams {
        let count = if seam.seam.count == 1 {
            String::new()
        } else {
            format!("{} x ", seam.seam.count)
        };
        let length = match (seam.length_m, &seam.seam.length) {
            (Some(_), Some(one)) => format!("{count}{one}"),
            _ => seam.seam.count.to_string(),
        };
        // Where only the whole is known, it stands with the one role that gives it.
        let needle = seam.needle_m.unwrap_or(seam.total_m);
        let row = [
            label(seam),
            seam.seam.stitch.clone(),
            length,
            seam.per_m.as_deref().map(three).unwrap_or_default(),
            format!("{}, by {}", seam.certainty, seam.method),
            role(&seam.needle),
            shown.thread(needle),
            role(seam.under_m.and(seam.under.as_deref()).unwrap_or_default()),
            seam.under_m
                .map(|under| shown.thread(under))
                .unwrap_or_default(),
        ];
        let detail = details.then(|| seam.seam.detail.clone().unwrap_or_default());
        table.row(row.into_iter().chain(detail));
    }
    table
}

/// At most three decimals of a decimal string, to the nearest, as in the working: `1.333334` as `1.333`.
fn three(text: &str) -> String {
    let Ok(number) = text.parse::<Decimal>() else {
        return text.to_owned();
    };
    number
        .round_dp_with_strategy(3, RoundingStrategy::MidpointAwayFromZero)
        .normalize()
        .to_string()
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_ratio_has_three_decimals() {
        for (text, shown) in [
            ("2.5", "2.5"),
            ("2.32", "2.32"),
            ("1.333334", "1.333"),
            ("4", "4"),
            ("1.9999", "2"),
        ] {
            assert_eq!(super::three(text), shown);
        }
    }
}
