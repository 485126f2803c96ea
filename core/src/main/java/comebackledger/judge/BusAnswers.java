package comebackledger.judge;

import comebackledger.bus.BusCheck;
import comebackledger.bus.BusCheck.Depth;
import comebackledger.bus.BusReadings;
import comebackledger.bus.BusVerdict;
import comebackledger.bus.CheckPolicy;
import comebackledger.bus.Circuit;
import comebackledger.bus.Evidence;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What was answered to questions asked before, for the facts of many visits: the same readings on the same build are the same question, a meter shows few
 * digits, and a fleet has few builds. Bounded, safe to share between threads, and free to forget: it changes what an answer costs and never what it is.
 */
public final class BusAnswers {
    private static final int KEPT = 1_000; // a few MiB; common practice, no source
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

    record Question(Circuit circuit, BusReadings readings, Evidence evidence, CheckPolicy policy, Depth depth) {
        Question at(Depth other) {
            return new Question(circuit, readings, evidence, policy, other);
        }
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
                .of(BusCheck.judge(question.circuit(), question.readings(), question.evidence(), question.policy(), question.depth()));
        synchronized (known) {
            known.put(question, weighed);
        }
        return weighed;
    }
}
