package comebackledger.fleet;

import comebackledger.policy.Policy;
import comebackledger.trail.Flag;
import comebackledger.trail.Totals;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitSummary.Opened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.function.Supplier;

/**
 * The units that keep coming back, ranked by the probability that they belong to the worst share of their peers by returns (comebacks and faults that
 * moved) per distance. A unit whose distance is not known is compared by days, with all units by days. The ranking makes the fewest wrong picks at that
 * share (Lin, Louis, Paddock and Ridgeway 2006, doi 10.1214/06-BA130); the rates are those of {@link ReturnRates}.
 *
 * @param priorAbsent why the spread of the units could not be told, and a weak prior stands in
 */
public record Offenders(List<Item> ranked, List<NotRanked> notRanked, Optional<String> priorAbsent) {
    /**
     * @param km empty where it is not known
     * @param estimated whether usage stands for part of the distance
     */
    public record Exposure(Optional<Double> km, double days, boolean estimated) {}

    /** Returns per unit of exposure. */
    public record Rate(double crude, double posteriorMean, double low, double high) {}

    /**
     * One ranked unit.
     *
     * @param comebacks episodes that are comebacks or moved
     * @param per100000Km at the peers' usual usage where only days are known; empty where no distance of any unit is
     * @param per1000Days only of a unit that is compared by days
     * @param probabilityAbovePeers that its rate is above the peers' mean
     * @param flags that stand on it; of the asker to add ({@link Offenders#withFlags})
     */
    public record Item(int rank, String unit, int comebacks, int episodes, int noFaultFound, Exposure exposure, Optional<Rate> per100000Km,
            Optional<Rate> per1000Days, double probabilityWorst, double probabilityAbovePeers, double qValue, List<Flag.Kind> flags,
            List<String> reasons) {
        Item with(List<Flag.Kind> standing) {
            return new Item(rank, unit, comebacks, episodes, noFaultFound, exposure, per100000Km, per1000Days, probabilityWorst,
                    probabilityAbovePeers, qValue, standing,
                    reasons);
        }
    }

    public record NotRanked(String unit, String why) {}

    /** Rates are told per this many km, or days. */
    static final double PER_KM = 100_000;
    static final double PER_DAYS = 1_000;

    /** Within one system, that is: only there the order counts. */
    private static final Comparator<Opened> IN_ORDER = Comparator.comparing(Opened::openedAt).thenComparing(Opened::place);

    /** @param limit how many units to tell; all with exposure are ranked */
    public static Offenders of(FleetRows rows, FleetQuestion question, Policy policy, int limit) {
        Clusters clusters = new Clusters();
        List<Tally> tallies = new ArrayList<>();
        List<NotRanked> notRanked = new ArrayList<>();
        Observed.each(rows, question, Measure.KM, observed -> Tally.of(observed, question, clusters).ifPresentOrElse(tallies::add,
                () -> notRanked.add(new NotRanked(observed.unit().unit(), whyNot(observed.unit(), question.at())))));
        tallies.sort(Comparator.comparing(Tally::unit));
        notRanked.sort(Comparator.comparing(NotRanked::unit));
        return new Ranking(tallies, clusters.factor(), policy.worstShare()).offenders(limit, notRanked);
    }

    /** What the ranking reads of a unit, and no more: ranked by such rows, the answer is the same. */
    public static UnitSummary needed(UnitSummary unit) {
        List<Opened> episodes = unit.episodes().stream().sorted(IN_ORDER)
                .map(episode -> new Opened(episode.system(), episode.system(), "", episode.openedAt(), Optional.empty(), episode.confirmed(),
                        episode.noFaultFound(), episode.comeback(), episode.moving(), OptionalDouble.empty(), OptionalDouble.empty()))
                .toList();
        return new UnitSummary(unit.unit(), unit.group(), new TreeMap<>(), unit.inServiceAt(), unit.retiredAt(), unit.firstVisitAt(),
                Optional.empty(),
                unit.meteredVisits(), unit.km(), Totals.NONE, episodes, List.of());
    }

    /** The same with the flags of each unit told; flags stand in the unit's fold and not in its row. */
    public Offenders withFlags(Function<String, List<Flag.Kind>> flags) {
        return new Offenders(ranked.stream().map(item -> item.with(flags.apply(item.unit()))).toList(), notRanked, priorAbsent);
    }

    private static String whyNot(UnitSummary unit, Instant at) {
        Optional<Instant> start = unit.inServiceAt().or(unit::firstVisitAt);
        if (start.isEmpty()) {
            return "No visit is recorded and no date of its going into service, so there is no exposure.";
        }
        return start.get().isAfter(at)
                ? "It had not gone into service by then, so there is no exposure."
                : "It was seen for the first time at that instant, so there is no exposure yet.";
    }

    /**
     * What is kept of one unit while the rows pass by.
     *
     * @param kmReturns those since the first known total, as {@code kmEpisodes}
     */
    private record Tally(String unit, int returns, int kmReturns, int episodes, int kmEpisodes, int noFaultFound, Optional<Amount> km, double days,
            Supplier<OptionalDouble> usualKmPerDay) {
        static Optional<Tally> of(Observed observed, FleetQuestion question, Clusters clusters) {
            Optional<Amount> days = observed.exposure(Measure.DAYS);
            if (days.isEmpty()) {
                return Optional.empty();
            }
            Optional<LifeLine> line = observed.line(Measure.KM);
            Optional<Amount> km = line.map(found -> found.until(observed.end())).filter(amount -> amount.value() > 0);
            int returns = 0;
            int kmReturns = 0;
            int kmEpisodes = 0;
            int noFaultFound = 0;
            List<Opened> counted = new ArrayList<>();
            for (Opened episode : observed.unit().episodes()) {
                if (question.counts(episode)) {
                    boolean metered = km.isPresent() && !episode.openedAt().isBefore(line.orElseThrow().start());
                    returns += episode.isReturn() ? 1 : 0;
                    kmReturns += metered && episode.isReturn() ? 1 : 0;
                    kmEpisodes += metered ? 1 : 0;
                    counted.add(episode);
                } else {
                    noFaultFound += episode.noFaultFound() && !episode.openedAt().isAfter(question.at()) && question.asksOfSystem(episode.system())
                            ? 1
                            : 0;
                }
            }
            if (returns > 0) {
                counted.sort(IN_ORDER);
                clusters.add(counted);
            }
            Usual usual = observed.usual();
            Optional<String> group = observed.unit().group();
            return Optional.of(new Tally(observed.unit().unit(), returns, kmReturns, counted.size(), kmEpisodes, noFaultFound, km, days.get().value(),
                    () -> usual.perDay(group)));
        }

        boolean byKm() {
            return km.isPresent();
        }
    }

    /** A unit's place in one of the two comparisons. */
    private record Placed(Tally tally, Comparison comparison, int index, double probabilityWorst, double mean) {
        /** Means are told beside their peers', so that those of one comparison stand beside those of the other. */
        Placed exactly() {
            ReturnRates rates = comparison.rates;
            return new Placed(tally, comparison, index, rates.probabilityWorst(index), rates.mean(index) / rates.peersMean());
        }
    }

    /** Units beside each other. */
    private static final class Comparison {
        private final ReturnRates rates;
        private final double[] qValues;

        Comparison(ReturnRates rates) {
            this.rates = rates;
            this.qValues = rates.qValues();
        }
    }

    private static final class Ranking {
        private final List<Tally> tallies;
        private final double worstShare;
        private final double factor;
        private final List<Placed> placed = new ArrayList<>();
        private Optional<String> priorAbsent = Optional.empty();

        Ranking(List<Tally> tallies, double factor, double worstShare) {
            this.tallies = tallies;
            this.factor = factor;
            this.worstShare = worstShare;
        }

        Offenders offenders(int limit, List<NotRanked> notRanked) {
            List<Tally> metered = tallies.stream().filter(Tally::byKm).toList();
            place(metered, true);
            if (metered.size() < tallies.size()) {
                place(tallies, false);
            }
            List<Item> items = new ArrayList<>();
            for (Placed unit : worst(Math.min(limit, placed.size()))) {
                items.add(item(items.size() + 1, unit));
            }
            return new Offenders(List.copyOf(items), List.copyOf(notRanked), priorAbsent);
        }

        /** Compares these units, and places those that belong into this comparison. */
        private void place(List<Tally> peers, boolean byKm) {
            if (peers.isEmpty()) {
                return;
            }
            double[] returns = new double[peers.size()];
            double[] fresh = new double[returns.length];
            double[] exposures = new double[returns.length];
            for (int i = 0; i < returns.length; i++) {
                Tally tally = peers.get(i);
                returns[i] = byKm ? tally.kmReturns() : tally.returns();
                fresh[i] = (byKm ? tally.kmEpisodes() : tally.episodes()) - returns[i];
                exposures[i] = byKm ? tally.km().orElseThrow().value() : tally.days();
            }
            ReturnRates rates = new ReturnRates(new Counted(returns, fresh, exposures), factor, worstShare);
            priorAbsent = priorAbsent.or(rates::priorAbsent);
            Comparison comparison = new Comparison(rates);
            for (int i = 0; i < returns.length; i++) {
                if (peers.get(i).byKm() == byKm) {
                    placed.add(new Placed(peers.get(i), comparison, i, rates.nearlyProbabilityWorst(i), 0));
                }
            }
        }

        /** The first in rank: all that may be among them by their nearly exact probability, put in order by the exact one. */
        private List<Placed> worst(int many) {
            if (many == 0) {
                return List.of();
            }
            double[] probabilities = placed.stream().mapToDouble(Placed::probabilityWorst).sorted().toArray();
            double atLeast = probabilities[probabilities.length - many] - 2 * GammaTail.ERROR;
            return placed.stream().filter(unit -> unit.probabilityWorst() >= atLeast).map(Placed::exactly)
                    .sorted(Comparator.comparingDouble(Placed::probabilityWorst).thenComparingDouble(Placed::mean).reversed()
                            .thenComparing(unit -> unit.tally().unit()))
                    .limit(many).toList();
        }

        private Item item(int rank, Placed placed) {
            Tally tally = placed.tally();
            ReturnRates rates = placed.comparison().rates;
            int i = placed.index();
            boolean byKm = tally.byKm();
            Optional<Double> kmPer = byKm ? Optional.of(1.0) : tally.usualKmPerDay().get().stream().boxed().filter(perDay -> perDay > 0).findFirst();
            Exposure exposure = new Exposure(tally.km().map(Amount::value), tally.days(), !byKm || tally.km().get().estimated());
            double expected = rates.peersMean() * exposure.km().orElse(tally.days());
            List<String> reasons = OffenderReasons.of(byKm ? tally.kmReturns() : tally.returns(), exposure,
                    new OffenderReasons.Beside(rates.units() - 1, expected, placed.probabilityWorst(), worstShare), tally.noFaultFound());
            return new Item(rank, tally.unit(), tally.returns(), tally.episodes(), tally.noFaultFound(), exposure,
                    kmPer.map(km -> rate(rates, i, PER_KM / km)), byKm ? Optional.empty() : Optional.of(rate(rates, i, PER_DAYS)),
                    placed.probabilityWorst(),
                    rates.probabilityAbovePeers(i), placed.comparison().qValues[i], List.of(), reasons);
        }

        private static Rate rate(ReturnRates rates, int i, double per) {
            return new Rate(per * rates.crude(i), per * rates.mean(i), per * rates.low(i), per * rates.high(i));
        }
    }
}
