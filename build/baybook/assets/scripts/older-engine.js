// For as long as the engine's answer has its older form: it is brought into the new one.
const LEFT = /^none$/;

export function olderHistory(history, data) {
  const codes = history.filter((event) => event.code);
  const told = codes.map(({ code, state }) => ({ code, stored: state === "stored" }));
  const all = history.some((event) => event.codes === "all");
  const absent = Object.keys(data.codes).filter((code) => !codes.some((event) => event.code === code));
  const rest = history.flatMap((event) => {
    if (event.test && !event.observation) return Object.keys(data.tests[event.test].observations).map((observation) => ({ test: event.test, observation, result: "not done" }));
    if (event.test) return [{ ...event, result: { normal: "not shown", abnormal: "shown" }[event.result] ?? event.result }];
    return event.repair || event.recheck ? [event] : [];
  });
  return [...told, ...(all ? absent.map((code) => ({ code, stored: false })) : []), ...rest];
}

export function newerAnswer(answer) {
  if (answer.error || answer.follow_ups || LEFT.test(answer.kind ?? "")) return answer;
  const { next, suspects, spent, to_go: toGo } = answer;
  return {
    ...answer,
    next: { ...next, headline: next.title, why: next.reason, time: "", if_bad: "", if_good: "", short: next.title },
    suspects: suspects.map((each) => ({ ...each, text: each.label, share_text: "" })),
    suspects_note: "",
    how_sure: [],
    follow_ups: answer.open_questions.map((each) => ({ ...each, text: each.sentence, state: "before closing" })),
    not_tested: [],
    discarded: [],
    ties: [],
    contradictions: answer.contradictions.map((each) => ({ ...each, text: each.sentence })),
    hand_on: [],
    spent: { ...spent, text: "" },
    to_go: { ...toGo, text: "" },
  };
}
