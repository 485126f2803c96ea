package comebackledger.rules;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Outcome;
import comebackledger.ledger.RecordedVisit;
import comebackledger.ledger.Stored;
import comebackledger.briefing.ReadingSeries;
import comebackledger.openapi.BriefingMapping;
import comebackledger.openapi.Fault;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.PolicyMapping;
import comebackledger.openapi.Problem;
import comebackledger.openapi.ReadinessMapping;
import comebackledger.openapi.ReadingsMapping;
import comebackledger.openapi.TrailMapping;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitAnswerMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** A ledger in memory whose trucks are told as JSON, with {@code '} for the quotes. */
final class Yard implements AutoCloseable {
    static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    /** Two networks, the first with four modules in the order of the trunk, and a charge air with an engine. */
    static final String BUILD = """
            {'build': {'supplyVolts': 12,
              'networks': [{'name': 'can-1', 'trunkMetres': 18, 'connector': {'atMetres': 2},
                'nodes': [{'module': 'engine', 'address': 0, 'atMetres': 1}, {'module': 'transmission', 'address': 3, 'atMetres': 6},
                          {'module': 'cluster', 'address': 23, 'atMetres': 10}, {'module': 'brakes', 'address': 11, 'atMetres': 16}]},
                {'name': 'can-2', 'nodes': [{'module': 'body', 'address': 33}, {'module': 'engine', 'address': 0}]}],
              'chargeAir': {'ratedBoost': {'value': 30, 'unit': 'psi'}, 'maxTestPressure': {'value': 20, 'unit': 'psi'}, 'spots': ['core', 'boot']},
              'engine': {'displacement': {'value': 6.7, 'unit': 'L'}, 'ratedSpeedRpm': 2400}}}
            """;
    private static final Caller HOST = new Caller("default", "host");
    private static final ObjectMapper JSON = new ObjectMapper();

    private final JdbcStore store = JdbcStore.inMemory();
    private final Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
    private int trucks;

    @Override
    public void close() {
        store.close();
    }

    Ledger ledger() {
        return ledger;
    }

    Truck truck() {
        return truck(BUILD);
    }

    Truck truck(String build) {
        trucks++;
        return new Truck("T-" + trucks, build);
    }

    void policy(String json, int replaces) {
        ledger.putPolicy(HOST, PolicyMapping.toCore(bytes(json)), OptionalInt.of(replaces));
    }

    private static byte[] bytes(String json) {
        return json.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
    }

    private static JsonNode tree(Object wire, String prefix) {
        try {
            return JSON.readTree(wire.toString().replace(prefix, ""));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    // What a visit holds.

    /** Released eight hours after it arrived, unless a member says otherwise. */
    static String visit(String arrived, String... members) {
        List<String> all = new ArrayList<>(List.of(members));
        all.add(0, "'arrivedAt': '" + arrived + "'");
        if (!String.join(" ", members).contains("'releasedAt'") && !all.remove("unreleased")) {
            all.add("'releasedAt': '" + Instant.parse(arrived).plusSeconds(8 * 3600) + "'");
        }
        return "{" + String.join(", ", all) + "}";
    }

    static String km(double km) {
        return "'meters': {'odometer': {'value': " + km + ", 'unit': 'km'}}";
    }

    static String hours(double hours) {
        return "'meters': {'engineHours': {'value': " + hours + ", 'unit': 'h'}}";
    }

    /** A charge air looked at; without a spot it passes. */
    static String smoke(String stage, String... spots) {
        return "{'stage': '" + stage + "', 'method': 'smoke', 'leaksAt': [" + names(spots) + "]}";
    }

    static String air(String... tests) {
        return "'chargeAirTests': [" + String.join(", ", tests) + "]";
    }

    /** A held flow; on the build's engine 4 L/min passes, 900 L/min does not. */
    static String flow(String stage, double litres, String... spots) {
        return "{'stage': '" + stage + "', 'method': 'held-flow', 'testPressure': {'value': 15, 'unit': 'psi'}, 'flow': {'value': " + litres
                + ", 'unit': 'L/min'}, 'leaksAt': [" + names(spots) + "]}";
    }

    static String checks(String... checks) {
        return "'busChecks': [" + String.join(", ", checks) + "]";
    }

    static String read(String stage, double ohm) {
        return "{'network': 'can-1', 'stage': '" + stage + "', 'power': 'off', 'highLow': {'value': " + ohm + ", 'unit': 'ohm'}}";
    }

    /** A roll call of the four modules of the first network. */
    static String call(String stage, String... silent) {
        List<String> answered = new ArrayList<>(List.of("engine", "transmission", "cluster", "brakes"));
        answered.removeAll(List.of(silent));
        return "{'network': 'can-1', 'stage': '" + stage + "', 'rollCall': {'answered': [" + names(answered.toArray(String[]::new)) + "], 'silent': ["
                + names(silent) + "]}}";
    }

    private static String names(String... names) {
        return names.length == 0 ? "" : "'" + String.join("', '", names) + "'";
    }

    static String repair(String place, boolean claims) {
        return "{'place': '" + place + "', 'action': 'replaced', 'claimsFixed': " + claims + "}";
    }

    static String repaired(String... places) {
        return "'repairs': [" + String.join(", ", List.of(places).stream().map(place -> repair(place, true)).toList()) + "]";
    }

    static String codes(String... codes) {
        return "'codes': [" + String.join(", ", codes) + "]";
    }

    static String code(String code, String reporter, String status, String more) {
        return "{'code': '" + code + "', 'reportedBy': '" + reporter + "', 'status': '" + status + "'" + (more.isEmpty() ? "" : ", ") + more + "}";
    }

    /** U0121 accuses the brakes, U0101 the transmission, U0100 the engine, U0155 the cluster (SAE J2012, from memory). */
    static String lost(String code, String reporter) {
        return code(code, reporter, "active", "'network': 'can-1'");
    }

    /** One truck and what is told of it. */
    final class Truck {
        private final String unit;
        /** Visits of two trucks must not share an identifier; the answers are told without it. */
        private final String prefix;

        Truck(String unit, String build) {
            this.unit = unit;
            this.prefix = unit + "..";
            ledger.putUnit(HOST, UnitMapping.toCore(unit, bytes(build)));
        }

        /** The derived row as it is kept. */
        Stored.Fold fold() {
            return store.read("default", tx -> tx.fold(unit)).orElseThrow();
        }

        /** Everything that the ledger tells of the truck now, as the wire tells it. */
        List<String> told() {
            List<String> told = new ArrayList<>();
            told.add(standing(NOW.toString()).toString());
            told.add(readiness(NOW.toString()).toString());
            List<ReadingSeries> series = ledger.bench().readings("default", unit, Optional.of(NOW)).orElseThrow();
            told.add(ReadingsMapping.list(series).toString());
            series.forEach(one -> told.add(ReadingsMapping.toWire(one).toString().replace(prefix, "")));
            told.add(BriefingMapping.toWire(ledger.bench().briefing("default", unit, Optional.of(NOW)).orElseThrow()).toString().replace(prefix, ""));
            return told;
        }

        Truck was(String visit, String json) {
            put(visit, json, OptionalInt.empty());
            return this;
        }

        /** The answer of a visit that is recorded. */
        JsonNode put(String visit, String json) {
            return put(visit, json, OptionalInt.empty());
        }

        JsonNode put(String visit, String json, OptionalInt replaces) {
            return switch (send(visit, json, replaces)) {
                case Outcome.Created<RecordedVisit>(RecordedVisit answer) -> tree(VisitAnswerMapping.toWire(answer), prefix);
                case Outcome.Replaced<RecordedVisit>(RecordedVisit answer) -> tree(VisitAnswerMapping.toWire(answer), prefix);
                case Outcome.Unchanged<RecordedVisit>(RecordedVisit answer) -> tree(VisitAnswerMapping.toWire(answer), prefix);
                case Outcome.UnitUnknown<RecordedVisit> other -> throw new AssertionError(other);
                case Outcome.RevisionRequired<RecordedVisit> other -> throw new AssertionError(other);
                case Outcome.Stale<RecordedVisit> other -> throw new AssertionError(other);
            };
        }

        private String id(String visit) {
            return visit.startsWith("SHARED") ? visit : prefix + visit;
        }

        Outcome<RecordedVisit> send(String visit, String json, OptionalInt replaces) {
            return ledger.putVisit(HOST, unit, VisitMapping.toCore(id(visit), bytes(json), NOW), replaces);
        }

        /** The pointers of what was refused; empty where the visit was taken. */
        List<String> refused(String visit, String json) {
            try {
                put(visit, json);
                return List.of();
            } catch (Problem problem) {
                return problem.faults().stream().map(Fault::pointer).toList();
            }
        }

        JsonNode visit(String visit) {
            return tree(VisitAnswerMapping.toWire(ledger.visit("default", unit, id(visit), OptionalInt.empty()).orElseThrow()), prefix);
        }

        /** The text that is kept. */
        String kept(String visit) {
            return ledger.visit("default", unit, id(visit), OptionalInt.empty()).orElseThrow().evidence();
        }

        JsonNode standing(String at) {
            return tree(TrailMapping.standing(ledger.standing("default", unit, Optional.of(Instant.parse(at))).orElseThrow()), prefix);
        }

        /** Place and state of every trail. */
        List<String> trails(String at) {
            List<String> told = new ArrayList<>();
            standing(at).path("trails").forEach(trail -> told.add(trail.path("place").asText() + " " + trail.path("state").asText()));
            return told;
        }

        JsonNode trail(String place, String at) {
            for (JsonNode trail : standing(at).path("trails")) {
                if (trail.path("place").asText().equals(place)) {
                    return trail;
                }
            }
            throw new AssertionError("no trail at " + place + ": " + trails(at));
        }

        String state(String place, String at) {
            return trail(place, at).path("state").asText();
        }

        int episodes(String place, String at) {
            return trail(place, at).path("episodes").size();
        }

        JsonNode lastEpisode(String place, String at) {
            JsonNode episodes = trail(place, at).path("episodes");
            return episodes.path(episodes.size() - 1);
        }

        List<String> flags(String place, String at) {
            List<String> flags = new ArrayList<>();
            trail(place, at).path("flags").forEach(flag -> flags.add(flag.path("flag").asText()));
            return flags;
        }

        JsonNode flag(String flag, String at) {
            for (JsonNode known : standing(at).path("flags")) {
                if (known.path("flag").asText().equals(flag)) {
                    return known;
                }
            }
            throw new AssertionError("no flag " + flag + ": " + standing(at).path("flags"));
        }

        JsonNode readiness(String at) {
            return tree(ReadinessMapping.toWire(ledger.dispatch()
                    .readiness("default", new DispatchDesk.Question(unit, Trip.STANDARD), Optional.of(Instant.parse(at))).orElseThrow()), prefix);
        }

        List<String> reasons(String at) {
            List<String> reasons = new ArrayList<>();
            readiness(at).path("reasons").forEach(reason -> reasons.add(reason.path("reason").asText()));
            return reasons;
        }
    }

    /** What the occurrences of a visit's answer say: place and kind. */
    static List<String> occurrences(JsonNode answer) {
        List<String> told = new ArrayList<>();
        answer.path("occurrences").forEach(one -> told.add(one.path("place").asText() + " " + one.path("kind").asText()));
        return told;
    }

    static List<String> warnings(JsonNode answer) {
        List<String> pointers = new ArrayList<>();
        answer.path("warnings").forEach(one -> pointers.add(one.path("pointer").asText()));
        return pointers;
    }

    /** Which codes of a visit's answer count. */
    static List<Boolean> counting(JsonNode answer) {
        List<Boolean> counts = new ArrayList<>();
        answer.path("codes").forEach(one -> counts.add(one.path("counts").asBoolean()));
        return counts;
    }
}
