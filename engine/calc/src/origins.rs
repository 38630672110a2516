//! Where the figures that rules see come from: the node of the plan's tape behind each.

use crate::explain::measure;
use crate::job::Job;
use crate::measure::MeasuredFace;
use parge_base::NodeId;

/// The node of the plan's tape behind what a rule sees of a face. This is the one place that
/// knows where the measures of a face come from.
pub(crate) fn face_origin(job: &Job, measured: &MeasuredFace, name: &str) -> Option<NodeId> {
    if let Some(found) = measure(measured, name) {
        return Some(found);
    }
    let finish = job.finishes.get(job.faces.get(measured.face)?.finish)?;
    match name {
        "thickness" => Some(finish.thickness.node),
        "relief" => Some(finish.relief.node),
        "sealer_coats" => finish.sealer_coats.map(|figure| figure.node),
        _ => {
            let number = name.strip_prefix("colours[")?.strip_suffix("].share")?;
            let number: usize = number.parse().ok()?;
            let (_, share) = finish.colours.get(number.checked_sub(1)?)?;
            Some(share.node)
        }
    }
}

/// The same for what a rule sees of linear work.
pub(crate) fn edge_origin(job: &Job, edge: usize, name: &str) -> Option<NodeId> {
    let edge = job.edges.get(edge)?;
    let finish = edge.finish.and_then(|finish| job.finishes.get(finish));
    match name {
        "length" => Some(edge.length.node),
        "thickness" => finish.map(|finish| finish.thickness.node),
        "working_height" => edge.working_height.map(|figure| figure.node),
        _ => None,
    }
}

/// The same for what the job block states.
pub(crate) fn job_origin(job: &Job, name: &str) -> Option<NodeId> {
    let figure = match name {
        "crew" => job.crew,
        "air" => job.weather.air,
        "mix" => job.weather.mix,
        "humidity" => job.weather.humidity,
        "wind" => job.weather.wind,
        "evaporation" => return job.weather.evaporation.map(|found| found.rate),
        "dew_point" => return job.weather.dew_point,
        _ => None,
    };
    figure.map(|figure| figure.node)
}
