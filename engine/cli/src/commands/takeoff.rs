//! `parge takeoff`: what was measured and what it takes, without prices.

use crate::args::TakeoffArgs;
use crate::session::Session;
use crate::table::{number, table, visible};
use crate::{Exit, World};
use parge_base::diagnostic::any_error;
use parge_calc::pool::Pooled;
use parge_calc::takeoff::Takeoff;
use parge_sheets::shown;
use std::io;

pub(crate) fn run(args: &TakeoffArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let mut session = Session::default();
    let made = session.load(&args.plan, world).and_then(|loaded| {
        let takeoff = session.take_off(&loaded)?;
        let pooled = session.pool(&takeoff, &loaded);
        Some((takeoff, pooled))
    });
    if let Some((takeoff, pooled)) = made.filter(|_| !any_error(&session.diagnostics)) {
        faces(&takeoff, world)?;
        edges(&takeoff, world)?;
        needs(&pooled, world)?;
        kit(&takeoff, world)?;
    }
    session.report(world)
}

fn faces(takeoff: &Takeoff, world: &mut World<'_>) -> io::Result<()> {
    let job = &takeoff.measured.job;
    let unit = shown::print_unit(shown::area_unit(job.units));
    let areas = |areas: shown::Areas| {
        [areas.gross, areas.deducted, areas.reveal, areas.net].map(|area| number(area, 1))
    };
    let mut rows: Vec<Vec<String>> = shown::faces(takeoff)
        .map(|face| {
            let words = [face.structure, face.name, face.finish, face.substrate].map(str::to_owned);
            words
                .into_iter()
                .chain([face.count.to_string()])
                .chain(areas(face.areas))
                .collect()
        })
        .collect();
    let words = ["all faces", "", "", "", ""].map(str::to_owned);
    rows.push(
        words
            .into_iter()
            .chain(areas(shown::total_areas(takeoff)))
            .collect(),
    );
    let names = [
        "structure",
        "face",
        "finish",
        "on",
        ">count",
        ">gross",
        ">deducted",
        ">reveals",
        ">net",
    ];
    writeln!(
        world.out,
        "{}: faces, in {unit}, all equal ones together",
        visible(&job.name)
    )?;
    writeln!(world.out, "{}\n", table(&names, rows, world.width))
}

fn edges(takeoff: &Takeoff, world: &mut World<'_>) -> io::Result<()> {
    let unit = shown::length_unit(takeoff.measured.job.units);
    let rows: Vec<Vec<String>> = shown::edges(takeoff)
        .map(|edge| {
            let words = [edge.structure, edge.face.unwrap_or(""), edge.kind].map(str::to_owned);
            let figures = [
                edge.count.to_string(),
                number(edge.length, 2),
                number(edge.total_length(), 2),
            ];
            words.into_iter().chain(figures).collect()
        })
        .collect();
    if rows.is_empty() {
        return Ok(());
    }
    let (one, all) = (format!(">one, {unit}"), format!(">all, {unit}"));
    let names = ["structure", "face", "edge", ">count", &one, &all];
    writeln!(world.out, "{}\n", table(&names, rows, world.width))
}

fn needs(pooled: &Pooled, world: &mut World<'_>) -> io::Result<()> {
    let materials = pooled.materials.iter().map(|material| {
        let show = |quantity| number(material.unit.show(quantity).unwrap_or_default(), 2);
        vec![
            material.description.clone(),
            show(material.need),
            show(material.waste),
            shown::print_unit(material.unit.text()),
        ]
    });
    let rows = materials.collect();
    writeln!(
        world.out,
        "{}\n",
        table(&["material", ">need", ">waste", "unit"], rows, world.width)
    )?;
    let hours = pooled
        .labour
        .iter()
        .fold(0.0, |sum, labour| sum + labour.hours);
    let labour = pooled
        .labour
        .iter()
        .map(|labour| vec![labour.description.clone(), number(labour.hours, 2)]);
    let rows = labour
        .chain([vec!["all phases".into(), number(hours, 2)]])
        .collect();
    writeln!(
        world.out,
        "{}",
        table(&["labour", ">hours"], rows, world.width)
    )
}

fn kit(takeoff: &Takeoff, world: &mut World<'_>) -> io::Result<()> {
    let tools = takeoff.kit.iter().map(|tool| {
        let from = if tool.hire { "to be hired" } else { "own" };
        vec![
            tool.description.clone(),
            number(tool.count, 0),
            from.to_owned(),
            tool.reasons.join("; "),
        ]
    });
    let rows: Vec<Vec<String>> = tools.collect();
    if rows.is_empty() {
        return Ok(());
    }
    let names = ["tool", ">count", "from", "taken for"];
    writeln!(world.out, "\n{}", table(&names, rows, world.width))
}
