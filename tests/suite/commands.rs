//! The commands: help, wrong use, and the way of a new job.

use parge_cli::Exit;
use parge_tests::Folder;

#[test]
fn help_of_every_command() {
    let folder = Folder::new().unwrap();
    let commands = [
        "",
        "new",
        "check",
        "takeoff",
        "estimate",
        "bid",
        "draw",
        "explain",
        "whatif",
        "rules",
        "rules show",
        "rules check",
        "rules new",
        "rules diff",
        "rules export",
        "checks",
        "why",
    ];
    let pages = commands.map(|command| {
        let said = folder.parge(&format!("{command} --help"));
        assert_eq!(said.exit, Exit::Fine);
        format!("== parge {command}\n{}", said.out)
    });
    insta::assert_snapshot!(pages.join("\n"));
}

#[test]
fn wrong_use_is_exit_code_2() {
    let folder = Folder::new().unwrap();
    for command in ["", "estimat", "estimate", "estimate a.parge --jsn x"] {
        let said = folder.parge(command);
        assert_eq!(said.exit, Exit::Usage, "{command}: {said}");
        assert_eq!(said.out, "", "{command}");
    }
}

/// What `parge new` writes is a job that estimates without an error, with its warnings said.
#[test]
fn a_new_job_estimates_at_once() {
    let folder = Folder::new().unwrap();
    insta::assert_snapshot!(folder.parge("new wall"));
    let said = folder.parge("estimate wall/job.parge -o bid.xlsx");
    assert_eq!(said.exit, Exit::Fine, "{said}");
    insta::assert_snapshot!("a_new_job_estimate", said);
    let again = folder.parge("new wall");
    assert_eq!(again.exit, Exit::Failed);
    assert!(again.err.contains("E0603"), "{again}");
}

#[test]
fn several_plans_are_checked_in_one_run() {
    let folder = Folder::with_demo().unwrap();
    folder
        .write(
            "bad.parge",
            "parge 1\njob \"Bad\" { rules \"vertical-concrete\" }\n",
        )
        .unwrap();
    let said = folder.parge("check job.parge bad.parge");
    assert_eq!(said.exit, Exit::Problems);
    insta::assert_snapshot!(said);
}
