/**
 * The same pure function, with its last few answers kept: asked again with an equal argument (by its JSON),
 * it gives the answer that it gave. For slow functions of small plain arguments.
 */
export function remember<Argument, Answer>(
  compute: (argument: Argument) => Answer,
  kept = 8,
): (argument: Argument) => Answer {
  const answers = new Map<string, Answer>();
  return (argument) => {
    const key = JSON.stringify(argument);
    const known = answers.get(key);
    const answer = known ?? compute(argument);
    answers.delete(key);
    answers.set(key, answer);
    if (answers.size > kept) answers.delete(answers.keys().next().value!);
    return answer;
  };
}
