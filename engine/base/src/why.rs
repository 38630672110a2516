//! The pages that explain each diagnostic: what it means for a job, an example that it is
//! reported for, and one that is right. A page is `why/E0202.md` beside this crate's sources; a
//! test runs the examples of all of them.

use crate::code::Code;

macro_rules! pages {
    ($($id:literal)+) => {
        /// The pages by the codes they explain. A code without one fails a test.
        const PAGES: &[(&str, &str)] = &[
            $(($id, include_str!(concat!("../why/", $id, ".md"))),)+
        ];
    };
}

pages! {
    "E0101" "E0102" "E0103" "E0104" "E0105" "E0106" "E0107" "E0108" "E0109" "E0110" "E0111"
    "E0112"
    "E0201" "E0202" "E0203" "E0204" "E0205" "E0206" "E0207" "E0208" "E0209" "E0210" "E0211"
    "E0212" "E0213" "W0214" "W0215" "E0216" "W0217" "W0218" "E0219"
    "E0220" "E0221" "E0222" "W0223" "E0224"
    "E0301" "E0302" "E0303" "W0304" "W0305" "W0306" "W0311" "W0312"
    "E0401" "E0402" "E0403" "E0404" "E0405" "E0406" "E0407" "E0408" "W0409" "E0410" "E0411" "E0412"
    "E0413"
    "E0501" "E0502" "E0503" "E0504" "E0505" "W0506" "W0507" "E0508" "W0509" "E0510" "W0511"
    "E0601" "E0602" "E0603" "E0604" "E0605" "E0606" "E0607"
    "E0701" "E0702" "E0703" "E0704" "W0705" "W0706" "W0707" "E0708" "E0709"
    "E0801" "E0802" "E0803" "E0804" "W0805" "W0806" "E0807"
    "E0810" "E0811" "W0812" "E0813" "E0814"
}

/// The page of a code, as Markdown.
pub fn page(code: Code) -> &'static str {
    let found = PAGES.iter().find(|(id, _)| *id == code.id());
    found.map_or("", |(_, page)| page)
}

/// What a page says in words, without its title and its examples, as one line.
pub fn meaning(page: &str) -> String {
    let lines = page.lines().skip(1);
    let lines: Vec<&str> = lines
        .take_while(|line| !line.starts_with("## "))
        .filter(|line| !line.is_empty())
        .collect();
    lines.join(" ")
}

#[cfg(test)]
mod tests;
