//! How much a figure of a tape grows with each node that it rests on.

use super::{Function, NodeId, Op, Operator, Tape};

impl Tape {
    /// The slope of a figure in every node up to it, in the order of the nodes: by how much the
    /// figure grows, in its base units, when the node alone is greater by one base unit. `value`
    /// gives the nodes' values, those of the tape or of a replay.
    ///
    /// What is rounded is taken as flat, and of the smaller or larger of two figures the one that
    /// holds counts; a figure in which a value has no slope (the root of nothing) gives none there.
    pub fn slopes(&self, of: NodeId, value: impl Fn(NodeId) -> f64) -> Vec<f64> {
        let mut slopes = vec![0.0; of.index() + 1];
        if let Some(own) = slopes.last_mut() {
            *own = 1.0;
        }
        for at in (0..slopes.len()).rev() {
            let slope = slopes.get(at).copied().unwrap_or(0.0);
            let node = self.nodes.get(at).filter(|_| slope != 0.0);
            let Some(node) = node else { continue };
            let mut add = |to: NodeId, by: f64| {
                let by = slope * by;
                if let Some(sum) = slopes.get_mut(to.index()).filter(|_| by.is_finite()) {
                    *sum += by;
                }
            };
            match node.op {
                Op::Input(_) | Op::Factor(_) | Op::Literal | Op::Constant => {}
                Op::Apply(function, a) => add(a, function.slope(value(a))),
                Op::Combine(operator, a, b) => {
                    let (left, right) = operator.slopes(value(a), value(b));
                    add(a, left);
                    add(b, right);
                }
            }
        }
        slopes
    }
}

impl Function {
    fn slope(self, a: f64) -> f64 {
        match self {
            Self::Negate => -1.0,
            Self::Abs if a < 0.0 => -1.0,
            Self::Abs => 1.0,
            Self::Root => 0.5 / a.sqrt(),
            Self::ArcSine => 1.0 / (1.0 - a * a).sqrt(),
            Self::Exp => a.exp(),
            Self::Ln => 1.0 / a,
            Self::WholeUp | Self::Round => 0.0,
        }
    }
}

impl Operator {
    fn slopes(self, a: f64, b: f64) -> (f64, f64) {
        match self {
            Self::Add => (1.0, 1.0),
            Self::Subtract => (1.0, -1.0),
            Self::Multiply => (b, a),
            Self::Divide => (1.0 / b, -a / (b * b)),
            Self::Power => (b * a.powf(b - 1.0), a.powf(b) * a.ln()),
            Self::Min if a <= b => (1.0, 0.0),
            Self::Max if a >= b => (1.0, 0.0),
            Self::Min | Self::Max => (0.0, 1.0),
        }
    }
}

#[cfg(test)]
mod tests;
