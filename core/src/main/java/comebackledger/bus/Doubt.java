package comebackledger.bus;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Readings that fit nothing together: which of them may have been misread, and what each explanation would show if it were read again.
 * <pre>
 *   P(readings L misread, suspect s) ~ P(s, the others) times the product over L of what any reading at all would be given
 * </pre>
 * L runs over the single readings without which the rest fits; where there is none, it is all of them. Every reading is as likely misread as another:
 * nothing is known of who read it. A reading that an explanation trusts would repeat what it showed; one that it doubts would show what its suspect predicts.
 * So the gain of reading again is the same information as that of any other test. As likely as a misread number is something that no list foresees: then
 * every reading would repeat what it showed, and of other tests nobody knows what they would.
 *
 * @param groups the suspects of all explanations, by probability, falling
 * @param leftOut of each group, the readings it doubts, by number
 */
record Doubt(List<Observed> observed, double leadOhm, List<Ranking.Group> groups, List<Set<Integer>> leftOut) {
    /** That nothing was misread: of two things nobody knows which (common practice, no source). */
    static final double NOTHING_MISREAD = 0.5;
    /** Of more readings than a check has, all are doubted at once: each one doubted by itself is a check judged again. */
    private static final int DOUBTED_AT_MOST = 8;
    private static final int GROUPS_AT_MOST = 500;

    /** Nothing was read that contradicts anything. */
    static Doubt none(List<Ranking.Group> groups) {
        return new Doubt(List.of(), 0, groups, List.of());
    }

    /**
     * What explains the readings without some of them.
     *
     * @param logForeseen the weight of all of it
     */
    record Explanation(Set<Integer> leftOut, List<Ranking.Group> groups, double logForeseen) {}

    /** @param without what explains the rest, if anything does; without any reading something always does */
    static Doubt of(List<Observed> observed, double leadOhm, Function<Set<Integer>, Optional<Explanation>> without) {
        List<Explanation> found = new ArrayList<>();
        int doubted = observed.size() > 1 && observed.size() <= DOUBTED_AT_MOST ? observed.size() : 0;
        for (int i = 0; i < doubted; i++) {
            without.apply(Set.of(i)).ifPresent(found::add);
        }
        if (found.isEmpty()) {
            without.apply(IntStream.range(0, observed.size()).boxed().collect(Collectors.toUnmodifiableSet())).ifPresent(found::add);
        }
        return mixed(observed, leadOhm, found);
    }

    private record Part(Ranking.Group group, Set<Integer> leftOut) {}

    private static Doubt mixed(List<Observed> observed, double leadOhm, List<Explanation> found) {
        double[] logs = found.stream().mapToDouble(one -> one.logForeseen()
                + one.leftOut().stream().mapToDouble(i -> Posterior.logOfAnything(observed.get(i))).sum()).toArray();
        double most = Arrays.stream(logs).max().orElse(0);
        double all = Arrays.stream(logs).map(log -> Math.exp(log - most)).sum();
        List<Part> parts = new ArrayList<>();
        for (int k = 0; k < logs.length; k++) {
            Explanation one = found.get(k);
            double foreseen = one.groups().stream().mapToDouble(group -> group.probability).sum();
            double share = Math.exp(logs[k] - most) / all / foreseen;
            one.groups().forEach(group -> parts.add(new Part(group.times(share), one.leftOut())));
        }
        parts.sort(Comparator.comparingDouble((Part part) -> part.group().probability).reversed());
        List<Part> told = parts.subList(0, Math.min(parts.size(), GROUPS_AT_MOST));
        return new Doubt(observed, leadOhm, told.stream().map(Part::group).toList(), told.stream().map(Part::leftOut).toList());
    }

    boolean isEmpty() {
        return observed.isEmpty();
    }

    /** What a probe that was read already would show again, without leads, if a group trusts it. */
    OptionalDouble repeated(int group, Probe probe) {
        for (int i = 0; i < observed.size(); i++) {
            if (observed.get(i).probe().equals(probe) && !leftOut.get(group).contains(i)) {
                return shown(observed.get(i));
            }
        }
        return OptionalDouble.empty();
    }

    /** What a probe showed, without leads. */
    OptionalDouble shown(Probe probe) {
        return observed.stream().filter(one -> one.probe().equals(probe)).findFirst().map(this::shown).orElse(OptionalDouble.empty());
    }

    private OptionalDouble shown(Observed one) {
        return OptionalDouble.of(one.probe().isVoltage() ? one.shown() : Math.max(0, one.shown() - leadOhm));
    }

    /** Everything that some group doubts. */
    List<Probe> doubted() {
        return IntStream.range(0, observed.size()).filter(i -> leftOut.stream().anyMatch(out -> out.contains(i)))
                .mapToObj(i -> observed.get(i).probe()).toList();
    }

    /** The likeliest suspect without one reading; empty where the others fit nothing without it. */
    Optional<Ranking.Group> without(Probe probe) {
        return IntStream.range(0, groups.size())
                .filter(group -> leftOut.get(group).size() == 1 && observed.get(leftOut.get(group).iterator().next()).probe().equals(probe))
                .mapToObj(groups::get).findFirst();
    }
}
