//! `parge why`: the page of a diagnostic, or the list of all.

use crate::args::WhyArgs;
use crate::{Exit, World};
use parge_base::{Code, suggest, why};
use std::io;

pub(crate) fn run(args: &WhyArgs, world: &mut World<'_>) -> io::Result<Exit> {
    let Some(word) = &args.code else {
        let mut codes = Code::ALL.to_vec();
        // By number, whether error or warning.
        codes.sort_by_key(|code| code.id().get(1..));
        for code in codes {
            writeln!(world.out, "{}  {}", code.id(), code.title())?;
        }
        return Ok(Exit::Fine);
    };
    let known = Code::ALL
        .iter()
        .find(|code| code.id().eq_ignore_ascii_case(word));
    if let Some(code) = known {
        write!(world.out, "{}", why::page(*code))?;
        return Ok(Exit::Fine);
    }
    let near = suggest::nearest(word, Code::ALL.iter().map(|code| code.id()));
    let help = match near {
        Some(near) => format!("did you mean `{near}`?"),
        None => "`parge why` lists all codes".to_owned(),
    };
    writeln!(
        world.err,
        "error: no diagnostic has the code `{word}`\n\nhelp: {help}"
    )?;
    Ok(Exit::Usage)
}
