//! Answers that are kept by the very number that was asked for, so that asking again costs nothing.

use std::sync::{Mutex, MutexGuard, PoisonError};

/// Answers that are kept at most: what is asked again is asked soon.
const MOST: usize = 64;

/// The latest answers, by what was asked.
#[derive(Debug)]
pub(crate) struct Kept<Asked, Answer>(Mutex<Vec<(Asked, Answer)>>);

impl<Asked, Answer> Default for Kept<Asked, Answer> {
    fn default() -> Self {
        Self(Mutex::new(Vec::new()))
    }
}

impl<Asked: PartialEq, Answer: Clone> Kept<Asked, Answer> {
    /// The answer to a question; `find` looks for it if it was not asked before. Nobody waits while it looks.
    pub fn or_found(&self, asked: Asked, find: impl FnOnce() -> Answer) -> Answer {
        if let Some((_, known)) = self.all().iter().find(|(before, _)| *before == asked) {
            return known.clone();
        }
        let answer = find();
        let mut all = self.all();
        if all.len() == MOST {
            all.remove(0);
        }
        all.push((asked, answer.clone()));
        answer
    }

    fn all(&self) -> MutexGuard<'_, Vec<(Asked, Answer)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_asked_is_not_looked_for_again_until_it_is_forgotten() {
        let kept = Kept::default();
        let mut looked = 0;
        let mut ask = |n: usize| {
            kept.or_found(n, || {
                looked += 1;
                10 * n
            })
        };
        for n in 0..MOST {
            assert_eq!(ask(n), 10 * n);
        }
        assert_eq!((ask(0), ask(7)), (0, 70));
        // One more: the first is forgotten.
        assert_eq!((ask(MOST), ask(7), ask(0)), (10 * MOST, 70, 0));
        assert_eq!(looked, MOST + 2);
    }
}
