package comebackledger.bus;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** The suspects of an answer, with the numbers and words beside each. */
final class Suspects {
    /** Below this a suspect is told under {@code other}. */
    private static final double LEAST = 0.002;
    private static final double CLOSE = 3;
    /** Standard deviation of a resistance that is worth telling, decades. */
    private static final double WITHIN_DECADES = 0.5;

    private final Layout layout;
    private final Trunk asTold;
    private final boolean voltages;
    private final List<Observed> observed;
    private final double leadOhm;
    private final List<String> silent;

    /** @param asTold the build with nothing assumed, power off; @param silent modules that were called */
    Suspects(Trunk asTold, boolean voltages, List<Observed> observed, double leadOhm, List<String> silent) {
        this.layout = asTold.layout;
        this.asTold = asTold;
        this.voltages = voltages;
        this.observed = observed;
        this.leadOhm = leadOhm;
        this.silent = silent;
    }

    /** @param share of all probability that the groups hold; the rest is the test's own condition */
    List<BusVerdict.Suspect> of(List<Ranking.Group> groups, double share) {
        List<BusVerdict.Suspect> suspects = new ArrayList<>();
        double told = 0;
        for (int i = 0; i < groups.size(); i++) {
            Ranking.Group group = groups.get(i);
            if (group.probability >= LEAST || i == 0) {
                suspects.add(suspect(group, group.probability * share, rivals(groups, i)));
                told += group.probability * share;
            }
        }
        double rest = Math.max(0, share - told);
        suspects.add(new BusVerdict.Suspect(FaultKind.OTHER, Optional.empty(), Optional.empty(), List.of(), OptionalDouble.empty(),
                OptionalDouble.empty(), rest, Optional.empty(), "None of the suspects above, and each less likely than 1 in 500.", List.of()));
        return suspects;
    }

    private static List<Ranking.Group> rivals(List<Ranking.Group> groups, int own) {
        double probability = groups.get(own).probability;
        List<Ranking.Group> rivals = new ArrayList<>();
        for (int i = 0; i < groups.size() && rivals.size() < 3; i++) {
            double theirs = groups.get(i).probability;
            if (i != own && theirs >= LEAST && theirs <= CLOSE * probability && probability <= CLOSE * theirs) {
                rivals.add(groups.get(i));
            }
        }
        return rivals;
    }

    private BusVerdict.Suspect suspect(Ranking.Group group, double probability, List<Ranking.Group> rivals) {
        Posterior.Particle best = group.best();
        Family family = best.family();
        OptionalDouble ohm = family.range().isPresent() && Double.isFinite(best.ohm()) ? meanOhm(group) : OptionalDouble.empty();
        Predicted predicted = predicted(best);
        List<BusVerdict.Second> also = family.also()
                .map(second -> List.of(new BusVerdict.Second(second.kind(), Places.part(layout, second)))).orElse(List.of());
        return new BusVerdict.Suspect(group.kind(), group.part, line(group), between(group, layout), ohm, metres(group), probability,
                Optional.of(predicted), why(group, predicted, rivals), also);
    }

    /** The geometric mean over the suspect's particles; none where they are spread over more than a decade, since nothing was read that tells. */
    private static OptionalDouble meanOhm(Ranking.Group group) {
        double sum = 0;
        double squares = 0;
        double weight = 0;
        for (int i = 0; i < group.particles.size(); i++) {
            if (Double.isFinite(group.particles.get(i).ohm()) && group.particles.get(i).family().range().isPresent()) {
                double log = Math.log10(group.particles.get(i).ohm());
                sum += group.weights.get(i) * log;
                squares += group.weights.get(i) * log * log;
                weight += group.weights.get(i);
            }
        }
        if (weight <= 0) {
            return OptionalDouble.of(group.best().ohm());
        }
        double mean = sum / weight;
        return squares / weight - mean * mean <= WITHIN_DECADES * WITHIN_DECADES ? OptionalDouble.of(Math.pow(10, mean)) : OptionalDouble.empty();
    }

    private static Optional<Line> line(Ranking.Group group) {
        Map<Optional<Line>, Double> shares = new LinkedHashMap<>();
        for (int i = 0; i < group.particles.size(); i++) {
            shares.merge(group.particles.get(i).family().line(), group.weights.get(i), Double::sum);
        }
        return settled(shares, group.probability).flatMap(line -> line);
    }

    private static <T> Optional<T> settled(Map<T, Double> shares, double total) {
        return shares.entrySet().stream().filter(entry -> entry.getValue() >= Ranking.SETTLED * total).map(Map.Entry::getKey).findFirst();
    }

    private static List<String> between(Ranking.Group group, Layout layout) {
        Map<Integer, Double> shares = new LinkedHashMap<>();
        for (int i = 0; i < group.particles.size(); i++) {
            shares.merge(group.particles.get(i).family().gap(), group.weights.get(i), Double::sum);
        }
        return settled(shares, group.probability).filter(gap -> gap != Tap.NONE).map(gap -> layout.gaps().get(gap).between()).orElse(List.of());
    }

    /** Told where it is known to a fifth of the trunk. */
    private OptionalDouble metres(Ranking.Group group) {
        double sum = 0;
        double squares = 0;
        double weight = 0;
        for (int i = 0; i < group.particles.size(); i++) {
            Family family = group.particles.get(i).family();
            if (family.gap() != Tap.NONE) {
                sum += group.weights.get(i) * family.metres();
                squares += group.weights.get(i) * family.metres() * family.metres();
                weight += group.weights.get(i);
            }
        }
        if (weight <= 0 || layout.circuit.trunkMetres().isEmpty()) {
            return OptionalDouble.empty();
        }
        double mean = sum / weight;
        return Math.sqrt(Math.max(squares / weight - mean * mean, 0)) <= layout.metres / 5 ? OptionalDouble.of(mean) : OptionalDouble.empty();
    }

    /** On the build as told; what an assumption alone explains, a path to ground or a bias, is as assumed. */
    private Predicted predicted(Posterior.Particle particle) {
        Scene scene = particle.scene();
        List<Fault> faults = particle.family().faults(layout, particle.ohm());
        Trunk off = scene.isAssumedGrounded() ? scene.off().trunk() : asTold;
        Predicted resistances = Predicted.of(seen(off, faults), leadOhm);
        return voltages ? resistances.withVoltagesOf(seen(scene.on().trunk(), faults)) : resistances;
    }

    private Mesh seen(Trunk on, List<Fault> faults) {
        Trunk.Laid laid = on.lay(faults);
        return observed.stream().map(Observed::probe).filter(probe -> probe.where() == Probe.Where.MODULE).findFirst()
                .map(probe -> laid.atModule(probe.part())).orElseGet(laid::atConnector);
    }

    private String why(Ranking.Group group, Predicted predicted, List<Ranking.Group> rivals) {
        StringBuilder why = new StringBuilder();
        for (Observed one : observed) {
            if (one.probe().measure() == Probe.Measure.HIGH_LOW && one.probe().where() == Probe.Where.CONNECTOR) {
                why.append("It would read ").append(ohm(predicted.highLowOhm())).append(" between the lines; read was ").append(ohm(one.shown()))
                        .append(". ");
            }
            if (one.probe().measure() == Probe.Measure.HIGH_GROUND && one.probe().where() == Probe.Where.CONNECTOR) {
                why.append("From high to ground it would read ").append(ohm(predicted.highGroundOhm())).append("; read was ")
                        .append(ohm(one.shown())).append(". ");
            }
        }
        group.part.filter(part -> Ranking.isModule(group.kind()) && silent.contains(part))
                .ifPresent(part -> why.append(part).append(" stayed silent when called. "));
        if (why.isEmpty()) {
            why.append("It fits who answers and who accuses whom. ");
        }
        if (Ranking.isModule(group.kind()) && group.part.isEmpty()) {
            why.append("The evidence holds every module alike. ");
        }
        if (!rivals.isEmpty()) {
            why.append("Not told apart from ").append(String.join(", ", rivals.stream().map(rival -> named(rival, layout)).distinct().toList()))
                    .append(" so far; ").append(Hints.teller(group.kind()).word()).append(" would tell.");
        }
        return why.toString().strip();
    }

    /** A suspect in words: what it is and where, a pair with its second fault. */
    static String named(Ranking.Group group, Layout layout) {
        Family family = group.best().family();
        String where = between(group, layout).isEmpty()
                ? group.part.map(part -> " at " + part).orElse("")
                : " between " + String.join(" and ", between(group, layout));
        return group.kind().word() + where + family.also()
                .map(second -> " with " + second.kind().word() + Places.part(layout, second).map(part -> " at " + part).orElse("")).orElse("");
    }

    private static String ohm(double ohm) {
        return Predicted.isOpen(ohm) ? "open" : (ohm < 1000 ? Double.toString(Math.rint(ohm * 10) / 10) : Long.toString(Math.round(ohm))) + " ohm";
    }
}
