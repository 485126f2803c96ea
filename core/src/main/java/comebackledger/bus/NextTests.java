package comebackledger.bus;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;

/**
 * The next test with the most information per minute: the mutual information, in bits, between which suspect it is and what the test would
 * show, over the particles of the posterior.
 *
 * <p>A number is shown to within its noise: it falls into a bin some standard deviations wide. Two bins' edges are tried, and the smaller
 * information counts, so that nothing is promised of two readings that differ by less than noise.
 */
final class NextTests {
    private static final int MOST_PARTICLES = 80;
    private static final int MOST_TESTS = 8;
    private static final int MOST_MODULES = 4;
    private static final double LEAST_BITS = 0.005;
    /** With no test left that tells more, a fault above even odds is the one to look for (common practice, no source). */
    private static final double CERTAIN = 0.5;
    /** One standard deviation of a later reading: terminators and meter together, and counts. */
    private static final double SHARE_SD = 0.01;
    private static final double OHM_SD = 0.3;
    private static final double VOLT_SD = 0.15;
    private static final double BIN_SD = 3;
    private static final long BINS = 4096;

    private final Layout layout;
    private final Talk talk;
    private final Doubt doubt;
    private final List<Ranking.Group> groups;
    private final int[] suspects;
    private final Posterior.Particle[] particles;
    private final double[] weights;
    private final Trunk.Laid[] off;
    private final Trunk.Laid[] on;
    private final Mesh[] atConnector;
    private final Mesh[] atConnectorOn;

    NextTests(Layout layout, Talk talk, List<Ranking.Group> groups) {
        this(layout, talk, Doubt.none(groups));
    }

    /** @param doubt what was read and may have been misread, with the suspects that explain the rest */
    NextTests(Layout layout, Talk talk, Doubt doubt) {
        this.layout = layout;
        this.talk = talk;
        this.doubt = doubt;
        this.groups = doubt.groups();
        List<Draw> draws = draws(groups);
        this.particles = draws.stream().map(Draw::particle).toArray(Posterior.Particle[]::new);
        this.suspects = draws.stream().mapToInt(Draw::suspect).toArray();
        double sum = draws.stream().mapToDouble(Draw::weight).sum();
        this.weights = draws.stream().mapToDouble(draw -> draw.weight / sum).toArray();
        this.off = Arrays.stream(particles).map(particle -> lay(particle.scene().off().trunk(), particle)).toArray(Trunk.Laid[]::new);
        this.on = Arrays.stream(particles).map(particle -> lay(particle.scene().on().trunk(), particle)).toArray(Trunk.Laid[]::new);
        this.atConnector = seen(off);
        this.atConnectorOn = seen(on);
    }

    private Mesh[] seen(Trunk.Laid[] laid) {
        return Arrays.stream(laid).map(Trunk.Laid::atConnector).toArray(Mesh[]::new);
    }

    private record Draw(Posterior.Particle particle, int suspect, double weight) {}

    private static List<Draw> draws(List<Ranking.Group> groups) {
        List<Draw> draws = new ArrayList<>();
        for (int i = 0; i < groups.size(); i++) {
            Ranking.Group group = groups.get(i);
            for (int k = 0; k < group.particles.size(); k++) {
                draws.add(new Draw(group.particles.get(k), i, group.weights.get(k)));
            }
        }
        draws.sort(Comparator.comparingDouble(Draw::weight).reversed());
        return draws.subList(0, Math.min(draws.size(), MOST_PARTICLES));
    }

    private static Trunk.Laid lay(Trunk trunk, Posterior.Particle particle) {
        return trunk.lay(particle.family().faults(trunk.layout, particle.ohm()));
    }

    /** One test that could be made. @param part by number, for tests at a module or a terminator */
    private record Candidate(TestKind test, int part) {}

    List<BusVerdict.NextTest> best(CheckPolicy policy, List<DoneTest> done, BusReadings readings, boolean rollCalled, boolean powered) {
        List<BusVerdict.NextTest> tests = new ArrayList<>(again(policy));
        for (Candidate candidate : candidates(readings, rollCalled, powered)) {
            Optional<String> at = at(candidate);
            // A test that has one place only was made wherever its place was written down.
            boolean made = done.stream().anyMatch(test -> test.test() == candidate.test && (candidate.part == Tap.NONE || test.at().equals(at)));
            if (!made) {
                double bits = bits(candidate);
                if (bits >= LEAST_BITS) {
                    tests.add(BusVerdict.NextTest.of(candidate.test, at, bits, policy));
                }
            }
        }
        tests.sort(Comparator.comparingDouble((BusVerdict.NextTest test) -> test.gainBits() / test.minutes()).reversed());
        boolean split = done.stream().anyMatch(test -> test.test() == TestKind.SPLIT_TRUNK);
        return tests.isEmpty() && !split ? located(policy).stream().toList() : List.copyOf(tests.subList(0, Math.min(MOST_TESTS, tests.size())));
    }

    /** Doubted readings, to be read again, whatever they tell. */
    private List<BusVerdict.NextTest> again(CheckPolicy policy) {
        Map<Candidate, Probe> doubted = new LinkedHashMap<>();
        doubt.doubted().forEach(probe -> again(probe).ifPresent(candidate -> doubted.putIfAbsent(candidate, probe)));
        List<BusVerdict.NextTest> tests = new ArrayList<>();
        doubted.forEach((candidate, probe) -> tests.add(BusVerdict.NextTest.of(candidate.test, at(candidate), bits(candidate), policy)
                .because(doubt.without(probe)
                        .map(group -> "Without what it showed the other readings fit " + Suspects.named(group, layout))
                        .orElse("What was read fits nothing together") + ": read it again" + (probe.isVoltage() ? "." : ", leads zeroed."))));
        return tests;
    }

    /** The test that reads a number again; empty for one that no test of the list reads. */
    private static Optional<Candidate> again(Probe probe) {
        return switch (probe.where()) {
            case CONNECTOR -> Optional.of(new Candidate(switch (probe.measure()) {
                case HIGH_LOW -> TestKind.HIGH_LOW_AT_CONNECTOR;
                case HIGH_GROUND -> TestKind.HIGH_GROUND_AT_CONNECTOR;
                case LOW_GROUND -> TestKind.LOW_GROUND_AT_CONNECTOR;
                case HIGH_SUPPLY -> TestKind.HIGH_SUPPLY_AT_CONNECTOR;
                case LOW_SUPPLY -> TestKind.LOW_SUPPLY_AT_CONNECTOR;
                case HIGH_VOLT, LOW_VOLT -> TestKind.RESTING_VOLTAGES;
                case HIGH_LINE, LOW_LINE -> TestKind.LINE_END_TO_END;
            }, Tap.NONE));
            case MODULE -> probe.measure() == Probe.Measure.HIGH_LOW
                    ? Optional.of(new Candidate(TestKind.HIGH_LOW_AT_MODULE, probe.part()))
                    : Optional.empty();
            case PINS -> Optional.of(new Candidate(TestKind.MODULE_PINS, probe.part()));
            case WITHOUT_MODULE -> probe.measure() == Probe.Measure.HIGH_LOW
                    ? Optional.of(new Candidate(TestKind.UNPLUG_MODULE, probe.part()))
                    : Optional.empty();
            case TERMINATOR, WITHOUT_TERMINATOR -> Optional.of(new Candidate(TestKind.TERMINATOR_OUT, probe.part()));
            case TOWARD_A, TOWARD_B -> Optional.of(new Candidate(TestKind.SPLIT_TRUNK, Tap.NONE));
        };
    }

    /**
     * Where one fault of the trunk is as good as certain no test tells suspects apart any more, and what is left is to find it by halves, each as likely as
     * it is long; half where nobody knows where the connector is.
     */
    private Optional<BusVerdict.NextTest> located(CheckPolicy policy) {
        return groups.stream().max(Comparator.comparingDouble(group -> group.probability))
                .filter(group -> group.part.equals(Optional.of(Places.TRUNK)) && group.probability >= CERTAIN).map(group -> {
                    double near = layout.connectorKnown && layout.metres > 0 ? layout.connectorMetres / layout.metres : 0.5;
                    double bits = entropy(group.probability) + group.probability * entropy(Math.clamp(near, 0, 1));
                    return BusVerdict.NextTest.of(TestKind.SPLIT_TRUNK, Optional.of(Places.TRUNK), bits, policy);
                });
    }

    private Optional<String> at(Candidate candidate) {
        return switch (candidate.test) {
            case HIGH_LOW_AT_MODULE, MODULE_PINS, UNPLUG_MODULE, SUPPLY_DROP -> Optional.of(layout.nodes.get(candidate.part).module());
            case TERMINATOR_OUT -> Optional.of(layout.terminators.get(candidate.part).name());
            case SPLIT_TRUNK, LINE_END_TO_END, WIGGLE -> Optional.of(Places.TRUNK);
            case REPEAT_POWER_OFF, ROLL_CALL, HIGH_LOW_AT_CONNECTOR, HIGH_GROUND_AT_CONNECTOR, LOW_GROUND_AT_CONNECTOR, HIGH_SUPPLY_AT_CONNECTOR,
                    LOW_SUPPLY_AT_CONNECTOR, RESTING_VOLTAGES ->
                Optional
                        .empty();
        };
    }

    private List<Candidate> candidates(BusReadings readings, boolean rollCalled, boolean powered) {
        List<Candidate> found = new ArrayList<>();
        add(found, TestKind.ROLL_CALL, !rollCalled);
        add(found, TestKind.HIGH_LOW_AT_CONNECTOR, readings.highLow().isEmpty());
        add(found, TestKind.HIGH_GROUND_AT_CONNECTOR, readings.highGround().isEmpty());
        add(found, TestKind.LOW_GROUND_AT_CONNECTOR, readings.lowGround().isEmpty());
        add(found, TestKind.HIGH_SUPPLY_AT_CONNECTOR, readings.highSupply().isEmpty());
        add(found, TestKind.LOW_SUPPLY_AT_CONNECTOR, readings.lowSupply().isEmpty());
        add(found, TestKind.RESTING_VOLTAGES, readings.highVoltage().isEmpty());
        add(found, TestKind.REPEAT_POWER_OFF, powered);
        add(found, TestKind.LINE_END_TO_END, true);
        add(found, TestKind.SPLIT_TRUNK, true);
        add(found, TestKind.WIGGLE, true);
        for (int i = 0; i < layout.terminators.size(); i++) {
            if (!layout.isInside(i)) {
                found.add(new Candidate(TestKind.TERMINATOR_OUT, i));
            }
        }
        for (int node : places()) {
            found.add(new Candidate(TestKind.HIGH_LOW_AT_MODULE, node));
        }
        for (int node : accused()) {
            found.add(new Candidate(TestKind.MODULE_PINS, node));
            found.add(new Candidate(TestKind.UNPLUG_MODULE, node));
            found.add(new Candidate(TestKind.SUPPLY_DROP, node));
        }
        return found;
    }

    private static void add(List<Candidate> found, TestKind test, boolean possible) {
        if (possible) {
            found.add(new Candidate(test, Tap.NONE));
        }
    }

    /** Where the same reading is worth taking again: the ends, the middle, and beside the likeliest stretch. */
    private TreeSet<Integer> places() {
        TreeSet<Integer> nodes = new TreeSet<>();
        int count = layout.nodes.size();
        if (count == 0) {
            return nodes;
        }
        nodes.addAll(List.of(0, count / 2, count - 1));
        for (Ranking.Group group : groups.subList(0, Math.min(4, groups.size()))) {
            int gap = group.best().family().gap();
            if (gap != Tap.NONE && nodes.size() < MOST_MODULES) {
                layout.gaps().get(gap).between().stream().map(layout::node).filter(node -> node != Tap.NONE).forEach(nodes::add);
            }
        }
        return nodes;
    }

    private List<Integer> accused() {
        double[] weight = new double[layout.nodes.size()];
        for (int i = 0; i < particles.length; i++) {
            Family family = particles[i].family();
            if (Ranking.isModule(family.kind())) {
                weight[family.part()] += weights[i];
            }
        }
        return java.util.stream.IntStream.range(0, weight.length).boxed().filter(node -> weight[node] > 0.001)
                .sorted(Comparator.comparingDouble((Integer node) -> weight[node]).reversed()).limit(MOST_MODULES).toList();
    }

    private double bits(Candidate candidate) {
        return switch (candidate.test) {
            case HIGH_LOW_AT_CONNECTOR, REPEAT_POWER_OFF -> ohms(Probe.at(Probe.Measure.HIGH_LOW));
            case HIGH_GROUND_AT_CONNECTOR -> ohms(Probe.at(Probe.Measure.HIGH_GROUND));
            case LOW_GROUND_AT_CONNECTOR -> ohms(Probe.at(Probe.Measure.LOW_GROUND));
            case HIGH_SUPPLY_AT_CONNECTOR -> ohms(Probe.at(Probe.Measure.HIGH_SUPPLY));
            case LOW_SUPPLY_AT_CONNECTOR -> ohms(Probe.at(Probe.Measure.LOW_SUPPLY));
            case RESTING_VOLTAGES -> volts();
            case HIGH_LOW_AT_MODULE -> ohms(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.MODULE, candidate.part));
            case MODULE_PINS -> ohms(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.PINS, candidate.part));
            case UNPLUG_MODULE -> Math.max(ohms(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.WITHOUT_MODULE, candidate.part)), chance(candidate));
            case TERMINATOR_OUT -> ohms(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.TERMINATOR, candidate.part),
                    new Probe(Probe.Measure.HIGH_LOW, Probe.Where.WITHOUT_TERMINATOR, candidate.part));
            case SPLIT_TRUNK -> ohms(new Probe(Probe.Measure.HIGH_LOW, Probe.Where.TOWARD_A, Tap.NONE),
                    new Probe(Probe.Measure.HIGH_LOW, Probe.Where.TOWARD_B, Tap.NONE));
            case LINE_END_TO_END -> ohms(new Probe(Probe.Measure.HIGH_LINE, Probe.Where.CONNECTOR, Tap.NONE),
                    new Probe(Probe.Measure.LOW_LINE, Probe.Where.CONNECTOR, Tap.NONE));
            case WIGGLE, SUPPLY_DROP -> chance(candidate);
            case ROLL_CALL -> rollCall();
        };
    }

    private double ohms(Probe probe) {
        return numbers(new Probe[]{probe});
    }

    private double ohms(Probe one, Probe other) {
        return numbers(new Probe[]{one, other});
    }

    private double volts() {
        return numbers(new Probe[]{Probe.at(Probe.Measure.HIGH_VOLT), Probe.at(Probe.Measure.LOW_VOLT)});
    }

    private double numbers(Probe[] probes) {
        int n = particles.length;
        boolean again = Arrays.stream(probes).anyMatch(probe -> doubt.shown(probe).isPresent());
        long[] one = new long[again ? n + 1 : n];
        long[] other = new long[one.length];
        boolean connector = probes[0].where() == Probe.Where.CONNECTOR && !probes[0].isLine();
        for (int i = 0; i < n; i++) {
            for (Probe probe : probes) {
                Scene scene = particles[i].scene();
                Trunk trunk = probe.isVoltage() ? scene.on().trunk() : scene.off().trunk();
                OptionalDouble repeated = doubt.repeated(suspects[i], probe);
                double place = scale(probe, repeated.isPresent()
                        ? repeated.getAsDouble()
                        : connector
                                ? probe.of(probe.isVoltage() ? atConnectorOn[i] : atConnector[i])
                                : probe.of(trunk, probe.isVoltage() ? on[i] : off[i]));
                one[i] = one[i] * BINS + bin(place, 0);
                other[i] = other[i] * BINS + bin(place, 0.5);
            }
        }
        if (!again) {
            return foreseen(Math.min(information(one), information(other)));
        }
        for (Probe probe : probes) {
            OptionalDouble shown = doubt.shown(probe);
            double place = shown.isPresent() ? scale(probe, shown.getAsDouble()) : Double.NaN;
            one[n] = one[n] * BINS + bin(place, 0);
            other[n] = other[n] * BINS + bin(place, 0.5);
        }
        return Math.min(informationBesideTheUnforeseen(one), informationBesideTheUnforeseen(other));
    }

    /** Of something that no list foresees nobody knows what a test would show. */
    private double foreseen(double bits) {
        return doubt.isEmpty() ? bits : (1 - Doubt.NOTHING_MISREAD) * bits;
    }

    /** The last outcome is that of something no list foresees: a suspect of its own. */
    private double informationBesideTheUnforeseen(long[] outcome) {
        int n = particles.length;
        double[] shares = Arrays.copyOf(weights, n + 1);
        for (int i = 0; i < n; i++) {
            shares[i] *= 1 - Doubt.NOTHING_MISREAD;
        }
        shares[n] = Doubt.NOTHING_MISREAD;
        int[] whose = Arrays.copyOf(suspects, n + 1);
        whose[n] = groups.size();
        return information(outcome, shares, whose);
    }

    /** In standard deviations of what a meter shows. */
    private static double scale(Probe probe, double value) {
        if (probe.isVoltage()) {
            return value / VOLT_SD;
        }
        return Predicted.isOpen(value) ? Mesh.OPEN : Math.log1p(value * SHARE_SD / OHM_SD) / SHARE_SD;
    }

    private static long bin(double place, double offset) {
        return Double.isNaN(place)
                ? BINS - 2
                : Double.isInfinite(place) ? BINS - 1 : Math.clamp((long) Math.floor(place / BIN_SD + offset) + 1, 0, BINS - 3);
    }

    /** A test that finds something or not, by the chances of each suspicion. */
    private double chance(Candidate candidate) {
        double[] found = new double[particles.length];
        for (int i = 0; i < found.length; i++) {
            found[i] = Found.chance(particles[i].family(), candidate.test, candidate.part);
        }
        return foreseen(information(found));
    }

    /** Who answers, as far as it differs: nobody, everybody, without one module, or one side of a stretch. */
    private double rollCall() {
        long[] outcome = new long[particles.length];
        for (int i = 0; i < outcome.length; i++) {
            outcome[i] = talk.outcome(particles[i].family(), particles[i].ohm());
        }
        return foreseen(information(outcome));
    }

    private double information(double[] found) {
        double yes = 0;
        double[] of = new double[groups.size()];
        double[] in = new double[groups.size()];
        for (int i = 0; i < found.length; i++) {
            yes += weights[i] * found[i];
            in[suspects[i]] += weights[i];
            of[suspects[i]] += weights[i] * found[i];
        }
        double bits = entropy(yes);
        for (int i = 0; i < of.length; i++) {
            bits -= in[i] > 0 ? in[i] * entropy(of[i] / in[i]) : 0;
        }
        return Math.max(bits, 0);
    }

    private static double entropy(double chance) {
        return chance <= 0 || chance >= 1 ? 0 : -(chance * Math.log(chance) + (1 - chance) * Math.log(1 - chance)) / Math.log(2);
    }

    /** I(suspect; outcome) = sum of p(s,o) log p(s,o)/(p(s)p(o)). */
    private double information(long[] outcome) {
        return information(outcome, weights, suspects);
    }

    private double information(long[] outcome, double[] weights, int[] suspects) {
        int n = outcome.length;
        int[] order = order(outcome, suspects);
        double[] of = new double[groups.size() + 1];
        for (int i = 0; i < n; i++) {
            of[suspects[i]] += weights[i];
        }
        double bits = 0;
        int start = 0;
        while (start < n) {
            int end = start;
            double all = 0;
            while (end < n && outcome[order[end]] == outcome[order[start]]) {
                all += weights[order[end++]];
            }
            int from = start;
            while (from < end) {
                int to = from;
                double both = 0;
                while (to < end && suspects[order[to]] == suspects[order[from]]) {
                    both += weights[order[to++]];
                }
                // Two logarithms: the product of two weights near the smallest double would be 0.
                bits += both > 0 ? both * (Math.log(both / of[suspects[order[from]]]) - Math.log(all)) : 0;
                from = to;
            }
            start = end;
        }
        return Math.max(bits / Math.log(2), 0);
    }

    /** By outcome, then by suspect; both fit a long beside the particle's number. */
    private static int[] order(long[] outcome, int[] suspects) {
        int n = outcome.length;
        long[] keys = new long[n];
        for (int i = 0; i < n; i++) {
            keys[i] = (outcome[i] << 20 | suspects[i]) << 10 | i;
        }
        Arrays.sort(keys);
        int[] order = new int[n];
        for (int i = 0; i < n; i++) {
            order[i] = (int) (keys[i] & 1023);
        }
        return order;
    }
}
