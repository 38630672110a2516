//! A small pack around a script under test, and faces to ask it about.

use crate::manifest::PackFiles;
use crate::pack::{Hook, Pack, load};
use crate::run::Run;
use crate::subject::{Subject, Value};
use parge_base::{Diagnostic, Dim, Quantity, Sources};
use std::time::Duration;

pub(crate) const HOOKS: [Hook; 2] = [
    Hook {
        name: "coats",
        parameters: &["face"],
    },
    Hook {
        name: "labour",
        parameters: &["face"],
    },
];

const TABLE: &str = "item,value,unit,source,note\nyield,0.5,ft3/bag,company,\nwaste,10,%,common practice,\n\
                     limit,1,in,ASTM C926,\nmix,quick,text,company,\n";

/// The files of a pack with one script and the table `mixes`.
pub(crate) fn files(script: &str) -> PackFiles {
    let manifest = "name = \"p\"\nversion = \"1\"\nsummary = \"s\"\nrules = [\"coats\"]\n";
    let texts = [
        ("pack.toml", manifest),
        ("scripts/rules.rhai", script),
        ("tables/mixes.csv", TABLE),
    ];
    PackFiles {
        folder: "p".into(),
        texts: texts
            .into_iter()
            .map(|(path, text)| (path.to_owned(), text.to_owned()))
            .collect(),
    }
}

/// A rule around a body.
pub(crate) fn rule(body: &str) -> String {
    format!("fn coats(face) {{ {body} }}")
}

/// Diagnostics as lines.
pub(crate) fn said(wrong: &[Diagnostic], sources: &Sources) -> String {
    let line = |d: &Diagnostic| {
        let at = d.span().map_or(String::new(), |span| {
            let place = sources.place(span.file, span.start);
            let name = sources.name(span.file);
            format!(" at {name}:{}:{}", place.line, place.column)
        });
        format!("{}{at}: {} | {}", d.code.id(), d.message, d.help)
    };
    wrong.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The pack, or what is wrong with it.
pub(crate) fn loaded(files: &PackFiles) -> Result<(Pack, Sources), String> {
    let mut sources = Sources::new();
    match load(std::slice::from_ref(files), &HOOKS, &mut sources) {
        Ok(pack) => Ok((pack, sources)),
        Err(wrong) => Err(said(&wrong, &sources)),
    }
}

/// A quantity of a face.
pub(crate) fn of(value: f64, dim: Dim) -> Value<'static> {
    Value::Quantity(Quantity { value, dim }, None)
}

/// A face of a size, a thickness and the shares of its two colours.
pub(crate) fn face(area: f64, thickness: f64, shares: [f64; 2]) -> Subject<'static> {
    let colour = |(name, share): (&'static str, f64)| Subject {
        kind: "colour".into(),
        values: vec![
            ("name".into(), Value::Text(name.into())),
            ("share".into(), of(share, Dim::NONE)),
        ],
    };
    let colours = ["red", "blue"].into_iter().zip(shares).map(colour);
    Subject {
        kind: "face".into(),
        values: vec![
            ("substrate".into(), Value::Text("block".into())),
            ("area".into(), of(area, Dim::AREA)),
            ("thickness".into(), of(thickness, Dim::LENGTH)),
            ("coats".into(), of((area * 0.7).round(), Dim::NONE)),
            ("radius".into(), Value::Absent),
            ("colours".into(), Value::List(colours.collect())),
        ],
    }
}

/// What comes of a body for one face: its run and what went wrong, on loading or on running.
pub(crate) fn outcome(files: &PackFiles) -> (Option<Run>, String) {
    match loaded(files) {
        Ok((pack, sources)) => {
            // What is counted is tested here, however busy the machine is.
            let run = pack.run_within(&["coats"], &face(10.0, 0.02, [0.6, 0.4]), Duration::MAX);
            let text = said(&run.errors, &sources);
            (Some(run), text)
        }
        Err(text) => (None, text),
    }
}
