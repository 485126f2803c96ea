package comebackledger.baseline;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.apache.commons.statistics.distribution.GammaDistribution;

/**
 * A fleet whose truth is known: units fail at places by distance, each at its own rate; a repair is bad with a chance that its action and its place's past
 * set, and a bad one returns after an exponential distance. Services read the odometer in between.
 */
final class SimulatedFleet {
    static final Instant START = Instant.parse("2023-01-01T00:00:00Z");
    static final double LEARNED_AT_DAY = 900;
    private static final double LAST_DAY = 960;
    private static final String[] ACTIONS = {"replaced", "cleaned", "tightened"};

    /** What the simulator knows of how fleets are. */
    record Truth(double shape, double meanRate, double[] badByAction, double badAgain, double badReturnsAfterKm, int places) {
        static final Truth COMMON = new Truth(1.2, 1 / 70_000.0, new double[]{0.10, 0.40, 0.25}, 0.15, 5000, 10);
        /** Few, even units; repairs that mostly hold. */
        static final Truth EVEN = new Truth(20, 1 / 90_000.0, new double[]{0.05, 0.10, 0.08}, 0, 8000, 6);
        /** Few bad units make most of the trouble. */
        static final Truth UNEVEN = new Truth(0.4, 1 / 60_000.0, new double[]{0.25, 0.6, 0.4}, 0.2, 2500, 14);

        double bad(int action, boolean again) {
            return Math.min(0.95, badByAction[action] + (again ? badAgain : 0));
        }
    }

    /** One unit: what is recorded of it, the trip asked about, what came of it, and what one who knows the truth but not the unit's fate would say. */
    record Case(UnitSummary unit, double tripKm, boolean opened, double oracle, double rate) {}

    final List<Case> cases = new ArrayList<>();

    SimulatedFleet(Truth truth, int units, long seed) {
        SplittableRandom random = new SplittableRandom(seed);
        for (int i = 0; i < units; i++) {
            cases.add(new One(truth, random.split(), String.format("T-%05d", i)).tell());
        }
    }

    static Instant day(double day) {
        return START.plusMillis(Math.round(day * 86_400_000));
    }

    /** Lives one unit forward by distance. */
    private static final class One {
        private final Truth truth;
        private final SplittableRandom random;
        private final String id;
        private final double kmPerDay;
        private final double rate;
        private final List<UnitSummary.Metered> visits = new ArrayList<>();
        private final List<UnitSummary.Opened> episodes = new ArrayList<>();
        private final List<UnitSummary.Mended> repairs = new ArrayList<>();
        private final double[] badReturnAt;
        private final int[] openRepair;
        private final boolean[] repairedBefore;
        private final double[] badAtFirst;

        One(Truth truth, SplittableRandom random, String id) {
            this.truth = truth;
            this.random = random;
            this.id = id;
            this.kmPerDay = 250 * Math.exp(0.5 * random.nextGaussian());
            this.rate = gamma(truth.shape(), truth.meanRate() / truth.shape());
            this.badReturnAt = new double[truth.places()];
            this.openRepair = new int[truth.places()];
            this.repairedBefore = new boolean[truth.places()];
            this.badAtFirst = new double[truth.places()];
            for (int p = 0; p < truth.places(); p++) {
                badReturnAt[p] = Double.POSITIVE_INFINITY;
                openRepair[p] = -1;
            }
        }

        private double gamma(double shape, double scale) {
            return GammaDistribution.of(shape, scale).inverseCumulativeProbability(random.nextDouble());
        }

        private double exponential(double mean) {
            return -mean * Math.log1p(-random.nextDouble());
        }

        private double dayOf(double km) {
            return km / kmPerDay;
        }

        Case tell() {
            double now = LEARNED_AT_DAY * kmPerDay;
            double end = LAST_DAY * kmPerDay;
            double trip = Math.min(200 * Math.exp(2.5 * random.nextDouble()), end - now);
            double service = 0;
            double nextFresh = exponential(1 / rate);
            boolean opened = false;
            double oracle = -1;
            double fresh = 0;
            while (true) {
                int returning = returning();
                double next = Math.min(Math.min(nextFresh, badReturnAt[returning]), service);
                if (next > now && oracle < 0) {
                    oracle = oracle(fresh, now, trip);
                }
                if (next > end) {
                    break;
                }
                if (next == service) {
                    visits.add(metered(service));
                    service += 15_000 + 10_000 * random.nextDouble();
                    continue;
                }
                boolean isFresh = next == nextFresh;
                int place = isFresh ? random.nextInt(truth.places()) : returning;
                opened |= next > now && next <= now + trip;
                fresh += next <= now ? freshShare(place, next, fresh) : 0;
                fail(place, next);
                nextFresh = isFresh ? next + exponential(1 / rate) : nextFresh;
            }
            UnitSummary unit = new UnitSummary(id, Optional.of("linehaul"), new TreeMap<>(), Optional.of(START), Optional.empty(), Optional.of(START),
                    Optional.of(visits.getLast().at()), visits, episodes, repairs);
            return new Case(unit, trip, opened, oracle, rate);
        }

        /** How likely a failure is fresh, for one who knows how fleets are and this unit's past. */
        private double freshShare(int place, double km, double fresh) {
            if (openRepair[place] < 0) {
                return 1;
            }
            double age = km - repairs.get(openRepair[place]).kmAt().getAsDouble();
            double still = Math.exp(-age / truth.badReturnsAfterKm());
            double bad = badAtFirst[place] * still / (badAtFirst[place] * still + 1 - badAtFirst[place]) / truth.badReturnsAfterKm();
            double afresh = (truth.shape() + fresh) / (truth.shape() / truth.meanRate() + km) / truth.places();
            return afresh / (afresh + bad);
        }

        private int returning() {
            int first = 0;
            for (int p = 1; p < badReturnAt.length; p++) {
                first = badReturnAt[p] < badReturnAt[first] ? p : first;
            }
            return first;
        }

        private UnitSummary.Metered metered(double km) {
            return new UnitSummary.Metered(day(dayOf(km)), OptionalDouble.of(km), 0, OptionalDouble.empty(), -1);
        }

        private static String place(int place) {
            return place % 2 == 0 ? "network.j1939-1.part-" + place : "charge-air.spot-" + place;
        }

        private void fail(int place, double km) {
            visits.add(metered(km));
            Instant at = day(dayOf(km));
            String system = place % 2 == 0 ? "network.j1939-1" : "charge-air";
            boolean comeback = openRepair[place] >= 0;
            if (comeback) {
                UnitSummary.Mended old = repairs.get(openRepair[place]);
                repairs.set(openRepair[place],
                        new UnitSummary.Mended(old.system(), old.place(), old.visit(), old.at(), old.action(), old.cause(), true,
                                old.kmAt(), old.engineHoursAt(), Optional.of(at), OptionalDouble.of(km - old.kmAt().getAsDouble()),
                                OptionalDouble.empty(),
                                Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty()));
            }
            Instant released = at.plusSeconds(3600);
            String visit = id + "-" + visits.size();
            episodes.add(new UnitSummary.Opened(system, place(place), visit, at, Optional.of(released), true, false, comeback, false,
                    OptionalDouble.of(km), OptionalDouble.empty()));
            int action = random.nextInt(ACTIONS.length);
            openRepair[place] = repairs.size();
            repairs.add(new UnitSummary.Mended(system, place(place), visit, released, ACTIONS[action], Optional.empty(), true, OptionalDouble.of(km),
                    OptionalDouble.empty(), Optional.empty(), OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty(),
                    OptionalDouble.empty(),
                    OptionalDouble.empty()));
            badAtFirst[place] = truth.bad(action, repairedBefore[place]);
            repairedBefore[place] = true;
            badReturnAt[place] = random.nextDouble() < badAtFirst[place] ? km + exponential(truth.badReturnsAfterKm()) : Double.POSITIVE_INFINITY;
        }

        /** The posterior of the unit's rate with the true spread, and of each standing repair being bad, given that it has not returned. */
        private double oracle(double fresh, double now, double trip) {
            double none = Math.pow(1 + trip / (truth.shape() / truth.meanRate() + now), -(truth.shape() + fresh));
            for (int p = 0; p < truth.places(); p++) {
                if (openRepair[p] >= 0) {
                    double age = now - repairs.get(openRepair[p]).kmAt().getAsDouble();
                    double still = Math.exp(-age / truth.badReturnsAfterKm());
                    double bad = badAtFirst[p] * still / (badAtFirst[p] * still + 1 - badAtFirst[p]);
                    none *= 1 - bad * -Math.expm1(-trip / truth.badReturnsAfterKm());
                }
            }
            return 1 - none;
        }
    }
}
