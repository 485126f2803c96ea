package comebackledger.bus;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Gathers the particles of the posterior into suspects: what the evidence cannot tell apart shares one line of the answer, what it can stands
 * by itself. Stretches of wire that lie side by side, and modules that are all alike, are gathered; the two ends of a trunk are not.
 */
final class Ranking {
    /** Neighbouring stretches whose likelihoods differ by less are one suspect. */
    private static final double ALIKE_STRETCHES = 10;
    private static final double ALIKE_MODULES = 1.5;
    /** A part of a suspect's probability that settles its line or its stretch. */
    static final double SETTLED = 0.8;

    /** e to the minus 18 is less than 1 in ten million. */
    private static final double NEGLIGIBLE = 18;

    private final Layout layout;
    private final List<Posterior.Particle> particles;
    private final double[] weights;
    private final double total;
    final double other;
    /** The weight of all that is foreseen, log; comparable between rankings of the same readings and of fewer. */
    final double logForeseen;

    /** @param leastOther what no list foresees keeps this probability, since no reading refutes what nobody described */
    Ranking(Layout layout, List<Posterior.Particle> all, double logOther, double leastOther) {
        this.layout = layout;
        double most = all.stream().mapToDouble(Posterior.Particle::logWeight).reduce(logOther, Math::max);
        this.particles = all.stream().filter(particle -> particle.logWeight() > most - NEGLIGIBLE).toList();
        this.weights = particles.stream().mapToDouble(particle -> Math.exp(particle.logWeight() - most)).toArray();
        double foreseen = 0;
        for (double weight : weights) {
            foreseen += weight;
        }
        double unforeseen = Math.exp(logOther - most);
        this.other = foreseen > 0 ? Math.max(unforeseen / (foreseen + unforeseen), leastOther) : 1;
        this.total = foreseen / (1 - other);
        this.logForeseen = foreseen > 0 ? most + Math.log(foreseen) : Double.NEGATIVE_INFINITY;
    }

    /** What makes two particles one suspect. */
    private record Key(FaultKind kind, Optional<String> part, int cluster, Optional<String> also) {}

    /** One suspect with its particles. */
    static final class Group {
        final Posterior.Particle first;
        final Optional<String> part;
        final List<Posterior.Particle> particles = new ArrayList<>();
        final List<Double> weights = new ArrayList<>();
        double probability;

        Group(Posterior.Particle first, Optional<String> part) {
            this.first = first;
            this.part = part;
        }

        /** The same suspect with its share of a wider question. */
        Group times(double share) {
            Group group = new Group(first, part);
            group.particles.addAll(particles);
            weights.forEach(weight -> group.weights.add(weight * share));
            group.probability = probability * share;
            return group;
        }

        FaultKind kind() {
            return first.family().kind();
        }

        Posterior.Particle best() {
            int best = 0;
            for (int i = 1; i < weights.size(); i++) {
                best = weights.get(i) > weights.get(best) ? i : best;
            }
            return particles.get(best);
        }
    }

    /** By probability, falling; equal ones in the order of the vocabulary and the trunk. */
    List<Group> groups() {
        Map<FaultKind, int[]> clusters = clusters();
        boolean[] alike = alikeModules();
        Map<Key, Group> groups = new LinkedHashMap<>();
        for (int i = 0; i < weights.length; i++) {
            Posterior.Particle particle = particles.get(i);
            Family family = particle.family();
            Optional<String> part = isModule(family.kind()) && (alike[family.kind().ordinal()] || family.also().isPresent())
                    ? Optional.empty()
                    : Places.part(layout, family);
            int[] cluster = clusters.get(family.kind());
            int number = cluster == null || family.gap() == Tap.NONE || family.also().isPresent() ? Tap.NONE : cluster[family.gap()];
            Optional<String> also = family.also().map(second -> second.kind().word() + " " + second.part());
            Group group = groups.computeIfAbsent(new Key(family.kind(), part, number, also), _ -> new Group(particle, part));
            group.particles.add(particle);
            group.weights.add(weights[i] / total);
            group.probability += weights[i] / total;
        }
        List<Group> sorted = new ArrayList<>(groups.values());
        sorted.sort(Comparator.comparingDouble((Group group) -> group.probability).reversed());
        return sorted;
    }

    static boolean isModule(FaultKind kind) {
        return switch (kind) {
            case MODULE_SHUNT, MODULE_STUB, MODULE_SUPPLY, MODULE_INTERNAL, REPORTER_ITSELF -> true;
            case NONE_FOUND, INTERMITTENT_NONE_PRESENT, TEST_CONDITION, TERMINATOR_MISSING, TERMINATOR_DRIFTED, EXTRA_TERMINATOR, TRUNK_OPEN,
                    TRUNK_SERIES_RESISTANCE, TRUNK_SHORT_HIGH_LOW, SHORT_TO_GROUND, SHORT_TO_SUPPLY, MODULE_UNPLUGGED, SENDER_DATA, SUPPLY_LOW,
                    CONNECTOR_FAULT, OTHER ->
                false;
        };
    }

    /** For breaks and joints, the number of the cluster that each stretch belongs to. */
    private Map<FaultKind, int[]> clusters() {
        Map<FaultKind, int[]> clusters = new java.util.EnumMap<>(FaultKind.class);
        int gaps = layout.gaps().size();
        for (FaultKind kind : List.of(FaultKind.TRUNK_OPEN, FaultKind.TRUNK_SERIES_RESISTANCE)) {
            double[] weight = new double[gaps];
            for (int i = 0; i < weights.length; i++) {
                Family family = particles.get(i).family();
                if (family.kind() == kind && family.also().isEmpty()) {
                    weight[family.gap()] += weights[i] / total;
                }
            }
            clusters.put(kind, clusters(weight));
        }
        return clusters;
    }

    private int[] clusters(double[] weight) {
        List<Layout.Gap> gaps = layout.gaps();
        int[] cluster = new int[weight.length];
        double clusterWeight = 0;
        double clusterMetres = 0;
        for (int i = 0; i < weight.length; i++) {
            double metres = Math.max(gaps.get(i).metres(), 1e-9);
            double likelihood = weight[i] / metres;
            double before = clusterMetres > 0 ? clusterWeight / clusterMetres : likelihood;
            boolean alike = gaps.get(i).metres() <= 0 || Math.max(likelihood, before) <= ALIKE_STRETCHES * Math.min(likelihood, before);
            cluster[i] = i == 0 ? 0 : alike ? cluster[i - 1] : cluster[i - 1] + 1;
            boolean starts = i == 0 || !alike;
            clusterWeight = starts ? weight[i] : clusterWeight + weight[i];
            clusterMetres = starts ? metres : clusterMetres + metres;
        }
        return cluster;
    }

    /** By kind, whether the evidence holds all modules alike. */
    private boolean[] alikeModules() {
        boolean[] alike = new boolean[FaultKind.values().length];
        int count = layout.nodes.size();
        for (FaultKind kind : FaultKind.values()) {
            if (isModule(kind) && count > 1) {
                double[] weight = new double[count];
                for (int i = 0; i < weights.length; i++) {
                    if (particles.get(i).family().kind() == kind && particles.get(i).family().also().isEmpty()) {
                        weight[particles.get(i).family().part()] += weights[i];
                    }
                }
                double most = java.util.Arrays.stream(weight).max().orElse(0);
                double least = java.util.Arrays.stream(weight).min().orElse(0);
                alike[kind.ordinal()] = most > 0 && most <= ALIKE_MODULES * least;
            }
        }
        return alike;
    }
}
