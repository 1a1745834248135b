//! README names every kind of problem with its status and exit code.

use ellwand_contract::ProblemType;

#[test]
fn every_problem_type_has_its_row_in_the_readme() {
    let readme = include_str!("../../README.md");
    for kind in ProblemType::ALL {
        let row = readme
            .lines()
            .find(|line| line.starts_with(&format!("| `{}` |", kind.slug())))
            .unwrap_or_else(|| panic!("README has no row for {}", kind.slug()));
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        assert!(
            cells[2]
                .split(", ")
                .any(|status| status == kind.status().to_string()),
            "status of {row}"
        );
        assert_eq!(cells[3], kind.exit().to_string(), "exit code of {row}");
    }
}
