//! What the parser could have read, in words. Every rule is named here, so that none is ever
//! shown by its inner name.

use crate::syntax::Rule;

/// How many possibilities are listed. More help nobody.
const MAX_LISTED: usize = 4;

/// `a name or a number`; `None` where nothing of use can be said.
pub(super) fn list(rules: &[Rule]) -> Option<String> {
    let mut words: Vec<&str> = rules.iter().map(|rule| words(*rule)).collect();
    words.retain(|words| !words.is_empty());
    words.sort_unstable();
    words.dedup();
    if words.len() > 1 {
        // A bracket could begin a size or a call almost anywhere.
        words.retain(|words| *words != "`(`");
    }
    match words.as_slice() {
        [] => None,
        many if many.len() > MAX_LISTED => None,
        [only] => Some((*only).to_owned()),
        [init @ .., last] => Some(format!("{} or {last}", init.join(", "))),
    }
}

/// The words of the language among what could have been read.
pub(super) fn keywords(rules: &[Rule]) -> Vec<&'static str> {
    let words = rules
        .iter()
        .flat_map(|rule| words(*rule).split('`').skip(1).step_by(2));
    words
        .filter(|word| word.starts_with(|letter: char| letter.is_ascii_lowercase()))
        .collect()
}

/// Whether a rule is about the inside of a number, and says nothing of what may follow it.
pub(crate) fn is_inside_number(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::unit
            | Rule::dash
            | Rule::number
            | Rule::plain
            | Rule::power_word
            | Rule::plain_unit
            | Rule::detached_unit
            | Rule::measured
            | Rule::detached
            | Rule::squared
            | Rule::scale
    )
}

fn words(rule: Rule) -> &'static str {
    match rule {
        Rule::name
        | Rule::bare
        | Rule::finish_name
        | Rule::let_name
        | Rule::colour
        | Rule::parameter => "a name",
        Rule::quoted => "a name in quotes",
        Rule::text => "a text in quotes",
        Rule::amount | Rule::bid_amount => "an amount",
        Rule::property => "a measure such as `area`",
        Rule::expr
        | Rule::operand
        | Rule::primary
        | Rule::named
        | Rule::of_quoted
        | Rule::reference
        | Rule::literal => "a size or number",
        Rule::shape => "a shape",
        Rule::day => "a date",
        Rule::weekday => "a weekday such as `mon`",
        Rule::version_number => "the number 1",
        Rule::profit_kind => "`markup` or `margin`",
        Rule::up | Rule::kw_up => "`up`",
        Rule::point => "a corner `(x, y)`",
        Rule::comma => "`,`",
        Rule::open => "`(`",
        Rule::close => "`)`",
        Rule::times => "`x`",
        Rule::equals => "`=`",
        Rule::substrate | Rule::kw_on => "`on`",
        Rule::count | Rule::kw_count => "`count`",
        Rule::reveal | Rule::kw_reveal => "`reveal`",
        Rule::height_at | Rule::kw_at => "`at`",
        Rule::template_use | Rule::came_from | Rule::kw_from => "`from`",
        Rule::kw_to => "`to`",
        Rule::kw_sweep => "`sweep`",
        Rule::kw_radius => "`radius`",
        Rule::kw_diameter => "`diameter`",
        Rule::kw_sides => "`sides`",
        Rule::kw_coats => "`coats`",
        Rule::kw_days => "`days`",
        Rule::kw_rise => "`rise`",
        Rule::kw_around => "`around`",
        Rule::kw_high => "`high`",
        Rule::edge_word => "`top`, `bottom` or `sides`",
        Rule::weather_word => "`air`, `humidity`, `wind` or `mix`",
        // Whole statements and lines: never what is missing.
        Rule::version_head
        | Rule::let_head
        | Rule::job_head
        | Rule::finish_head
        | Rule::structure_head
        | Rule::template_head
        | Rule::include_head
        | Rule::alternate_head
        | Rule::allowance_head
        | Rule::exclude_head
        | Rule::note_head
        | Rule::terms_head
        | Rule::job_line
        | Rule::job_start
        | Rule::weather_line
        | Rule::weather_start
        | Rule::bid_line
        | Rule::bid_start
        | Rule::finish_line
        | Rule::finish_start
        | Rule::structure_line
        | Rule::structure_start
        | Rule::face_line
        | Rule::face_start
        | Rule::conditions_line
        | Rule::conditions_start
        | Rule::crew_line
        | Rule::crew_start
        | Rule::alternate_line
        | Rule::alternate_start
        | Rule::change_line
        | Rule::change_start
        | Rule::job_member
        | Rule::client
        | Rule::site
        | Rule::date
        | Rule::valid_until
        | Rule::valid
        | Rule::units
        | Rule::measure
        | Rule::rules
        | Rule::prices
        | Rule::crew
        | Rule::weather
        | Rule::bid
        | Rule::conditions
        | Rule::condition
        | Rule::start
        | Rule::workdays
        | Rule::hours
        | Rule::holidays
        | Rule::weather_days
        | Rule::days
        | Rule::job_word
        | Rule::travel
        | Rule::forecast
        | Rule::crew_class
        | Rule::after
        | Rule::weather_member
        | Rule::bid_member
        | Rule::burden
        | Rule::overhead
        | Rule::profit
        | Rule::tax
        | Rule::contingency
        | Rule::class
        | Rule::minimum
        | Rule::rounding
        | Rule::finish_member
        | Rule::technique
        | Rule::thickness
        | Rule::relief
        | Rule::colours
        | Rule::sealer
        | Rule::structure_member
        | Rule::use_finish
        | Rule::own_height
        | Rule::edge
        | Rule::face_member
        | Rule::alternate_member
        | Rule::change
        | Rule::omit
        | Rule::face
        | Rule::face_detail
        | Rule::opening
        | Rule::rect
        | Rule::triangle_sides
        | Rule::triangle
        | Rule::trapezoid
        | Rule::polygon
        | Rule::circle
        | Rule::arch
        | Rule::cylinder
        | Rule::frustum
        | Rule::arc
        | Rule::ellipse
        | Rule::ring
        | Rule::segment_arch
        | Rule::cone
        | Rule::dome
        | Rule::stations
        | Rule::measured_area
        | Rule::pack_shape
        | Rule::kw_shape
        | Rule::kw_ellipse
        | Rule::kw_ring
        | Rule::kw_cone
        | Rule::kw_dome
        | Rule::kw_stations
        | Rule::kw_stepped
        | Rule::kw_measured
        | Rule::kw_parge
        | Rule::kw_let
        | Rule::kw_job
        | Rule::kw_finish
        | Rule::kw_structure
        | Rule::kw_template
        | Rule::kw_include
        | Rule::kw_alternate
        | Rule::kw_omit
        | Rule::kw_allowance
        | Rule::kw_exclude
        | Rule::kw_note
        | Rule::kw_terms
        | Rule::kw_edge
        | Rule::kw_height
        | Rule::kw_conditions
        | Rule::kw_start
        | Rule::kw_workdays
        | Rule::kw_hours
        | Rule::kw_holidays
        | Rule::kw_weather_days
        | Rule::kw_travel
        | Rule::kw_forecast
        | Rule::kw_after
        | Rule::kw_face
        | Rule::kw_opening
        | Rule::kw_client
        | Rule::kw_site
        | Rule::kw_date
        | Rule::kw_valid_until
        | Rule::kw_valid
        | Rule::kw_units
        | Rule::kw_measure
        | Rule::kw_rules
        | Rule::kw_prices
        | Rule::kw_crew
        | Rule::kw_weather
        | Rule::kw_bid
        | Rule::kw_burden
        | Rule::kw_overhead
        | Rule::kw_profit
        | Rule::kw_tax
        | Rule::kw_contingency
        | Rule::kw_class
        | Rule::kw_minimum
        | Rule::kw_round
        | Rule::kw_technique
        | Rule::kw_thickness
        | Rule::kw_relief
        | Rule::kw_colours
        | Rule::kw_sealer
        | Rule::kw_rect
        | Rule::kw_triangle
        | Rule::kw_trapezoid
        | Rule::kw_polygon
        | Rule::kw_circle
        | Rule::kw_arch
        | Rule::kw_cylinder
        | Rule::kw_frustum
        | Rule::kw_arc => "",
        // Operators and units, which may follow any number, and what is read only to be refused.
        Rule::WHITESPACE
        | Rule::number
        | Rule::plain
        | Rule::mixing
        | Rule::over
        | Rule::rest
        | Rule::decimals
        | Rule::sign
        | Rule::arguments
        | Rule::parameters
        | Rule::path
        | Rule::dot
        | Rule::measured
        | Rule::COMMENT
        | Rule::amount_part
        | Rule::bid_word
        | Rule::group
        | Rule::infix
        | Rule::add
        | Rule::subtract
        | Rule::multiply
        | Rule::divide
        | Rule::power
        | Rule::negate
        | Rule::reading
        | Rule::scale
        | Rule::compound
        | Rule::size
        | Rule::simple
        | Rule::unit
        | Rule::detached
        | Rule::detached_unit
        | Rule::squared
        | Rule::power_word
        | Rule::plain_unit
        | Rule::dash
        | Rule::gap
        | Rule::blank
        | Rule::quoted_text
        | Rule::reserved
        | Rule::end
        | Rule::EOI => "",
    }
}
