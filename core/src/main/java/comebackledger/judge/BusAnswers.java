package comebackledger.judge;

import comebackledger.bus.BusCheck;
import comebackledger.bus.BusCheck.Depth;
import comebackledger.bus.BusReadings;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.Evidence;
import comebackledger.policy.Policy;
import comebackledger.unit.Network;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.concurrent.atomic.AtomicReferenceArray;
import org.jspecify.annotations.Nullable;

/**
 * What was answered to questions asked before, for the facts of many visits: the same readings on the same build are the same question, a meter shows few
 * digits, and a fleet has few builds. Bounded, safe to share between threads, and free to forget: it changes what an answer costs and never what it is.
 */
public final class BusAnswers {
    private static final int KEPT = 1_000; // a few MiB; common practice, no source
    private static final int NETWORKS_KEPT = 64;
    private static final double LEAST_PROBABILITY_KEPT = 0.001;

    /** What the fold keeps of a verdict. */
    record Weighed(BusVerdict.Verdict verdict, BusVerdict.Expected expectedHighLowOhm, List<SuspectFact> suspects) {
        static Weighed of(BusVerdict verdict) {
            return new Weighed(verdict.verdict(), verdict.expectedHighLowOhm(),
                    verdict.suspects().stream().filter(suspect -> suspect.probability() >= LEAST_PROBABILITY_KEPT)
                            .map(suspect -> new SuspectFact(suspect.fault().word(), suspect.part(), suspect.between(), suspect.probability()))
                            .toList());
        }
    }

    /** A value that is asked for again and again, its hash made once. */
    record Hashed<T>(T value, int hash) {
        static <T> Hashed<T> of(T value) {
            return new Hashed<>(value, value.hashCode());
        }

        @Override
        public boolean equals(@Nullable Object other) {
            return other instanceof Hashed<?>(Object known, int knownHash) && hash == knownHash && value.equals(known);
        }

        @Override
        public int hashCode() {
            return hash;
        }
    }

    record Question(Hashed<Circuit> circuit, BusReadings readings, Evidence evidence, Hashed<CheckPolicy> policy, Depth depth) {
        Question at(Depth other) {
            return new Question(circuit, readings, evidence, policy, other);
        }
    }

    private record Limits(Policy policy, Hashed<CheckPolicy> checks) {}

    private record Wired(Network network, OptionalDouble supplyVolts, Hashed<Circuit> circuit) {}

    private volatile @Nullable Limits limits;
    private final AtomicReferenceArray<@Nullable Wired> wired = new AtomicReferenceArray<>(NETWORKS_KEPT);

    /** A policy's limits: many visits in a row are judged under the same. */
    @SuppressWarnings("ReferenceEquality") // to compare two policies costs what this saves
    Hashed<CheckPolicy> checks(Policy policy) {
        Limits last = limits;
        if (last != null && last.policy == policy) {
            return last.checks;
        }
        CheckPolicy made = Circuits.policy(policy);
        Hashed<CheckPolicy> checks = last != null && last.checks.value.equals(made) ? last.checks : Hashed.of(made);
        limits = new Limits(policy, checks);
        return checks;
    }

    /** The circuit of a network: the visits of one unit come in a row. */
    @SuppressWarnings("ReferenceEquality") // as above
    Hashed<Circuit> circuit(Network network, OptionalDouble supplyVolts) {
        int slot = System.identityHashCode(network) % NETWORKS_KEPT;
        Wired last = wired.get(slot);
        if (last != null && last.network == network && last.supplyVolts.equals(supplyVolts)) {
            return last.circuit;
        }
        Hashed<Circuit> circuit = Hashed.of(Circuits.of(network, supplyVolts));
        wired.set(slot, new Wired(network, supplyVolts, circuit));
        return circuit;
    }

    private final Map<Question, Weighed> known = new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1L;

        @Override
        protected boolean removeEldestEntry(Map.Entry<Question, Weighed> eldest) {
            return size() > KEPT;
        }
    };

    /** Remembers what was answered at full depth. */
    void keep(Question question, BusVerdict verdict) {
        Weighed weighed = Weighed.of(verdict);
        synchronized (known) {
            known.put(question.at(Depth.SUSPECTS), weighed);
            known.put(question.at(Depth.LIMITS), weighed);
        }
    }

    Weighed answer(Question question) {
        synchronized (known) {
            Weighed found = known.get(question);
            if (found != null) {
                return found;
            }
        }
        Weighed weighed = Weighed
                .of(BusCheck.judge(question.circuit().value(), question.readings(), question.evidence(), question.policy().value(),
                        question.depth()));
        synchronized (known) {
            known.put(question, weighed);
        }
        return weighed;
    }
}
