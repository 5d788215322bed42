//! A whole network: its parts one by one.

use super::network::Network;
use super::problem::{Block, Problem};
use super::task::Task;
use super::{AdjustError, Adjusted, Freedom, ObservationId, Settings};

impl Network {
    /// The adjusted values, or what is wrong with each part of the network that hangs together.
    pub fn adjust(&self, settings: &Settings) -> Result<Adjusted, Vec<AdjustError>> {
        let problem = Problem::new(self)?;
        let (blocks, loose) = problem.blocks();
        let places = places(&blocks, problem.start.len());
        let local: Vec<u32> = places.iter().map(|(_, local)| *local).collect();
        let mut errors = Vec::new();
        let near = 1e-7 + 1e-11 * problem.extent;
        let broken = loose.into_iter().filter(|id| {
            let observation = problem.observations.get(*id as usize);
            observation.is_some_and(|o| o.sigma == 0.0 && problem.off(o, &problem.start).abs() > near)
        });
        errors.extend(broken.map(|id| AdjustError::Contradictory { observations: vec![ObservationId(id)] }));
        let mut values = problem.start.clone();
        let mut solved = Vec::with_capacity(blocks.len());
        for block in &blocks {
            let mut task = Task::new(&problem, block, &local);
            task.free_net(settings);
            match task.solve(&mut values, settings) {
                Ok(block) => solved.push(block),
                Err(error) => errors.push(error),
            }
        }
        if errors.is_empty() { Ok(Adjusted::new(problem, values, places, solved)) } else { Err(errors) }
    }

    /// What the observations leave free to move at the starting values, exact conditions held; empty when the
    /// network is determined, and when it holds numbers that are none, which [`Network::adjust`] tells.
    pub fn freedoms(&self) -> Vec<Freedom> {
        let Ok(problem) = Problem::new(self) else { return Vec::new() };
        let (blocks, _) = problem.blocks();
        let local: Vec<u32> = places(&blocks, problem.start.len()).iter().map(|(_, local)| *local).collect();
        blocks.iter().flat_map(|block| Task::new(&problem, block, &local).freedoms(&problem.start)).collect()
    }
}

/// Block of each unknown and its place there.
fn places(blocks: &[Block], unknowns: usize) -> Vec<(u32, u32)> {
    let mut places = vec![(0, 0); unknowns];
    for (number, block) in (0..).zip(blocks) {
        for (local, unknown) in (0..).zip(&block.unknowns) {
            if let Some(slot) = places.get_mut(*unknown as usize) {
                *slot = (number, local);
            }
        }
    }
    places
}
