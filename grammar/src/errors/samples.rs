//! The right form of everything that can be written, in small examples.

/// A face.
pub(crate) const FACE: &str = "face street rect 22ft x 4ft drystone";
/// A face with an opening.
pub(crate) const OPENING: &str =
    "face street rect 22ft x 4ft { opening vent rect 12in x 8in reveal 4in }";

/// A structure made from a template.
pub(crate) const FROM: &str = "structure \"North bay\" from bay(12ft, 8ft)";

/// A structure in an alternate.
pub(crate) const CHANGE: &str = "structure \"Entry planter\" { finish bark }";

/// The shapes with their sizes.
const SHAPES: [(&str, &str); 16] = [
    ("rect", "rect 22ft x 4ft"),
    ("triangle", "triangle 10ft x 3ft"),
    ("trapezoid", "trapezoid 10ft to 6ft x 4ft"),
    ("polygon", "polygon (0ft, 0ft) (10ft, 0ft) (5ft, 7ft)"),
    ("circle", "circle diameter 3ft"),
    ("arch", "arch 2ft x 3ft"),
    ("cylinder", "cylinder diameter 2ft x 9ft"),
    ("frustum", "frustum 30in to 22in x 9ft"),
    ("arc", "arc radius 6ft sweep 90deg x 4ft"),
    ("ellipse", "ellipse 6ft x 4ft"),
    ("ring", "ring 6ft to 4ft"),
    ("cone", "cone diameter 6ft x 4ft"),
    ("dome", "dome diameter 6ft x 3ft"),
    ("stations", "stations (0ft, 4ft) (12ft, 6ft)"),
    ("shape", "shape octagon(3ft, 9ft)"),
    (
        "measured",
        "measured 42ft2 around 26ft high 5ft \"boulder, taped in strips\"",
    ),
];

/// The settings and members of blocks, and the statements of the top.
const MEMBERS: [(&str, &str, &str); 52] = [
    ("client", "job", "client \"Heron Point Trust\""),
    ("site", "job", "site \"Trailhead court\""),
    ("date", "job", "date 2026-04-20"),
    ("valid_until", "job", "valid_until 2026-08-01"),
    ("valid", "job", "valid 60 days"),
    ("units", "job", "units us"),
    ("measure", "job", "measure net"),
    ("rules", "job", "rules \"vertical-concrete\""),
    ("prices", "job", "prices \"prices.csv\""),
    ("crew", "job", "crew 3"),
    ("weather", "job", "weather { air 84F  humidity 40% }"),
    ("bid", "job", "bid { overhead 12%  profit markup 25% }"),
    (
        "conditions",
        "job or structure",
        "conditions { access tight  place indoors }",
    ),
    ("start", "job", "start 2026-06-01"),
    ("workdays", "job", "workdays mon tue wed thu fri"),
    ("hours", "job", "hours 8h"),
    ("holidays", "job", "holidays 2026-07-03, 2026-07-06"),
    ("weather_days", "job", "weather_days 2026-06-10, 2026-06-11"),
    ("travel", "job", "travel 45min"),
    ("forecast", "job", "forecast \"weather.csv\""),
    ("after", "structure", "after \"Entry planter\""),
    ("height", "structure", "height 8ft"),
    ("at", "structure", "at 9ft"),
    ("edge", "structure", "edge cap 22ft count 2"),
    ("omit", "alternate", "omit \"Grotto\""),
    ("air", "weather block", "air 84F"),
    ("humidity", "weather block", "humidity 40%"),
    ("wind", "weather block", "wind 9mph"),
    ("mix", "weather block", "mix 80F"),
    ("burden", "bid block", "burden 32%"),
    ("overhead", "bid block", "overhead 12%"),
    ("profit", "bid block", "profit markup 25%"),
    ("tax", "bid block", "tax 7.25% on materials"),
    ("contingency", "bid block", "contingency 8%"),
    ("class", "bid block", "class 3"),
    ("minimum", "bid block", "minimum 2150 USD"),
    ("round", "bid block", "round up to 10 USD"),
    ("technique", "finish", "technique stamp"),
    ("thickness", "finish", "thickness 3/4in"),
    ("relief", "finish", "relief 1.15"),
    ("colours", "finish", "colours granite 60%, moss 40%"),
    ("colors", "finish", "colors granite 60%, moss 40%"),
    ("sealer", "finish", "sealer matte, 2 coats"),
    ("let", "plan", "let height = 2ft 8in"),
    ("job", "plan", "job \"Entry court\" { crew 3 }"),
    (
        "template",
        "plan",
        "template bay(width, high) on block { … }",
    ),
    ("include", "plan", "include \"finishes.parge\""),
    (
        "alternate",
        "plan",
        "alternate \"Carve the planter\" { structure \"Entry planter\" { finish bark } }",
    ),
    ("allowance", "plan", "allowance \"Crane day\" 850 USD"),
    ("exclude", "plan", "exclude \"Electrical and lighting\""),
    ("note", "plan", "note \"Owner supplies water on site\""),
    (
        "terms",
        "plan",
        "terms \"Half on signing, half on completion\"",
    ),
];

/// The names of all shapes.
pub(crate) fn shape_words() -> impl Iterator<Item = &'static str> + Clone {
    SHAPES.iter().map(|(word, _)| *word)
}

/// The right form of a shape.
pub(crate) fn shape(word: &str) -> Option<&'static str> {
    SHAPES
        .iter()
        .find(|(name, _)| *name == word)
        .map(|(_, sample)| *sample)
}

/// The right form of a member or statement, by the word that it begins with.
pub(crate) fn of(word: &str) -> Option<&'static str> {
    match word {
        "parge" => Some("parge 1"),
        "finish" => Some("finish bark { technique carve }"),
        "structure" => Some("structure \"Entry planter\" on block { … }"),
        "face" => Some(FACE),
        "opening" => Some("opening vent rect 12in x 8in reveal 4in"),
        _ => MEMBERS
            .iter()
            .find(|(name, ..)| *name == word)
            .map(|(.., sample)| *sample),
    }
}

/// The block that a member belongs to, with the right form of the member.
pub(crate) fn home(word: &str) -> Option<(&'static str, &'static str)> {
    let found = MEMBERS
        .iter()
        .find(|(name, home, _)| *name == word && *home != "plan");
    found.map(|(_, home, sample)| (*home, *sample))
}
