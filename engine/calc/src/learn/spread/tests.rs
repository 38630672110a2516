use super::*;
use crate::contract::HOOKS;
use crate::testing::{SCRIPT, pack_files, shown};
use parge_base::Sources;

/// What the small pack with these rows of table `spread` says, or what is wrong with them.
fn read(rows: &str) -> Result<Spreads, String> {
    let mut files = pack_files(SCRIPT);
    let text = format!("spread,of,value,unit,source\n{rows}");
    files.texts.insert("tables/spread.csv".to_owned(), text);
    let mut sources = Sources::new();
    let pack = parge_rules::load(&[files], HOOKS, &mut sources).unwrap();
    spreads(&pack).map_err(|wrong| {
        let lines: Vec<String> = wrong.iter().map(|said| shown(said, &sources)).collect();
        lines.join("\n")
    })
}

fn cell(table: &str, keys: &[&str]) -> CellName {
    CellName {
        table: table.to_owned(),
        keys: keys.iter().map(|key| (*key).to_owned()).collect(),
    }
}

/// A row that strays as another one may stand before it.
#[test]
fn spreads_are_read() {
    let found = read(
        "together,rates.edge,rates.place,text,company\nfactor,rates.place,12,%,company\n\
         factor,mixes.mix.waste,4,%,company\njob,hours,8,%,company\nline,materials,5,%,company\n",
    );
    let factors = vec![
        (
            vec![cell("rates", &["place"]), cell("rates", &["edge"])],
            0.12,
        ),
        (vec![cell("mixes", &["mix", "waste"])], 0.04),
    ];
    let wanted = Spreads {
        factors,
        job: [0.0, 0.08],
        line: [0.05, 0.0],
    };
    assert_eq!(found, Ok(wanted));
}

#[test]
fn rows_that_cannot_be_read_are_said_all_in_one_run() {
    let wrong = read(
        "factor,rates.plase,12,%,company\nfactor,rates.place,12,h,company\n\
         factor,mixes.mix.waste,300,%,company\nfaktor,rates.edge,3,%,company\n\
         job,hour,8,%,company\ntogether,rates.edge,rates.place,text,company\n",
    );
    insta::assert_snapshot!(wrong.unwrap_err());
}
