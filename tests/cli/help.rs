//! The whole reference of the command line, so that a change of help shows in review.

use crate::books::Workshop;
use clap::CommandFactory;
use ellwand::arguments::Cli;

/// Every command with its words, groups too, as the command line itself knows them.
fn commands() -> Vec<String> {
    fn walk(command: &clap::Command, words: &str, all: &mut Vec<String>) {
        all.push(words.to_owned());
        for inner in command.get_subcommands() {
            walk(inner, format!("{words} {}", inner.get_name()).trim(), all);
        }
    }
    let mut root = Cli::command();
    root.build();
    let mut all = Vec::new();
    walk(&root, "", &mut all);
    all
}

#[test]
fn the_reference_is_reviewed() {
    let workshop = Workshop::new();
    let mut reference = String::new();
    for command in commands() {
        let help = workshop.run(&format!("{command} --help")).done().out;
        reference.push_str(&format!("$ ellwand {command} --help\n{help}\n"));
    }
    insta::assert_snapshot!("reference", reference);
}

/// A command stands in the first column of a table: `ellwand lot show` · `edit` · `place`.
#[test]
fn the_readme_names_every_command() {
    let readme = include_str!("../../README.md");
    let rows: Vec<Vec<&str>> = readme
        .lines()
        .filter_map(|line| line.strip_prefix("| `ellwand")?.split('|').next())
        .map(|cell| {
            cell.split(|letter: char| letter.is_whitespace() || letter == '`')
                .collect()
        })
        .collect();
    let named = |command: &String| {
        let words: Vec<&str> = command.split(' ').collect();
        rows.iter()
            .any(|row| words.iter().all(|word| row.contains(word)))
    };
    let mut missing = commands();
    missing.retain(|command| !command.is_empty() && !named(command));
    assert_eq!(missing, Vec::<String>::new());
}

/// A line that is copied from the examples of a help text is whole: none is wider than 80 columns, where it would be broken.
#[test]
fn examples_never_break() {
    fn walk(command: &mut clap::Command, broken: &mut Vec<String>) {
        let help = command.render_long_help().to_string();
        let examples = help.lines().skip_while(|line| !line.starts_with("Example"));
        // What explains stands at the margin, and is broken as it should be.
        for line in examples.filter(|line| line.starts_with(' ')) {
            if line.chars().count() > 80 {
                broken.push(format!("{}: {line}", command.get_name()));
            }
        }
        for inner in command.get_subcommands_mut() {
            walk(inner, broken);
        }
    }
    let (mut root, mut broken) = (Cli::command().term_width(0), Vec::new());
    root.build();
    walk(&mut root, &mut broken);
    assert_eq!(broken, Vec::<String>::new());
}
