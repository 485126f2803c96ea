package comebackledger.api;

import comebackledger.api.caller.LocalCallers;
import comebackledger.api.http.Route;
import comebackledger.api.route.RouteTable;
import comebackledger.api.route.StoredRoutes;
import comebackledger.api.transfer.LineImport;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.ledger.Caller;
import comebackledger.ledger.DispatchDesk;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.PlannerDesk;
import comebackledger.openapi.LedgerCodec;
import comebackledger.readiness.Trip;
import comebackledger.storage.JdbcStore;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** The times of the answers over one fleet, as {@link FleetScaleBenchmark} says. */
final class FleetScaleAnswers {
    private static final String FLEET = "default";
    private static final int CONNECTIONS = 8;
    private static final int ROUNDS = 5;
    private static final int PLANNER_ROUNDS = 10;
    private static final byte[] CONSTANT = ("{\"answer\":\"ready\",\"padding\":\"" + "x".repeat(600) + "\"}").getBytes(StandardCharsets.UTF_8);
    /** What is counted without exposure, proof or probability: repairs of a place, and a repair of the same place within the window after it. */
    private static final String NAIVE_COMEBACKS = """
            select r.unit, count(*) comebacks
            from naive_repair r
            join naive_repair b on b.unit = r.unit and b.place = r.place and b.repaired_at < r.repaired_at
              and b.repaired_at >= dateadd(day, -90, r.repaired_at)
            group by r.unit
            order by comebacks desc
            """;

    private final Path data;
    private final int units;

    FleetScaleAnswers(Path data, int units) {
        this.data = data;
        this.units = units;
    }

    /** What is left after a collection. */
    static double usedMib() {
        System.gc();
        return (Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory()) / 1048576.0;
    }

    void run() throws Exception {
        try (JdbcStore store = JdbcStore.embedded(data)) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
            timed("baseline learned", () -> ledger.baselines().learn(FLEET));
            planner(ledger);
            alone(ledger);
            bulk(ledger);
            routes(ledger);
        }
    }

    // The planner.

    private void planner(Ledger ledger) throws Exception {
        timed("offenders, first", () -> offenders(ledger, 0, Optional.empty()));
        timed("offenders, kept", () -> offenders(ledger, 0, Optional.empty()));
        double changed = Double.MAX_VALUE;
        double system = Double.MAX_VALUE;
        double afterVisit = Double.MAX_VALUE;
        for (int round = 1; round <= PLANNER_ROUNDS; round++) {
            int at = round; // another instant each time, or a kept answer would be told
            changed = Math.min(changed, timed("offenders, another instant", () -> offenders(ledger, at, Optional.empty())));
            system = Math.min(system, timed("offenders, another system", () -> offenders(ledger, at, Optional.of("charge-air"))));
            visit(ledger, round);
            afterVisit = Math.min(afterVisit, timed("offenders, after a visit", () -> offenders(ledger, -at, Optional.empty())));
        }
        for (int round = 0; round < 3; round++) {
            PlannerDesk.Question all = question(round, Optional.empty());
            timed("patterns", () -> ledger.planner().patterns(FLEET, all));
            timed("repairs", () -> ledger.planner().holds(FLEET, all, new Holds.Filter(Optional.empty(), Optional.empty()), Measure.KM));
            timed("recurrence", () -> ledger.planner().recurrence(FLEET, all, Measure.KM));
        }
        naive(ledger, changed, system, afterVisit);
    }

    private static PlannerDesk.Question question(int seconds, Optional<String> system) {
        return new PlannerDesk.Question(Optional.empty(), system, Optional.of(ScaleFleet.UNTIL.plusSeconds(seconds)));
    }

    private static PlannerDesk.Answer<?> offenders(Ledger ledger, int seconds, Optional<String> system) {
        return ledger.planner().offenders(FLEET, question(seconds, system), 100);
    }

    /** Records one more visit of one unit: a service on the fleet's last day. */
    private static void visit(Ledger ledger, int unit) throws IOException {
        String line = "{\"visit\":{\"unit\":\"" + ScaleFleet.unitId(unit) + "\",\"id\":\"WO-MORE-" + System.nanoTime() + "\",\"arrivedAt\":\""
                + ScaleFleet.UNTIL.minusSeconds(86_400) + "\",\"releasedAt\":\"" + ScaleFleet.UNTIL + "\",\"complaint\":\"scheduled service\"}}";
        LineImport taken = new LineImport(ledger, new Caller(FLEET, "benchmark"), true);
        taken.takeLines(new ByteArrayInputStream(line.getBytes(StandardCharsets.UTF_8)), _ -> {});
        if (taken.tally().rejected() > 0) {
            throw new IllegalStateException("rejected: " + taken.tally().problems());
        }
    }

    /**
     * The join by itself, over an indexed table that holds nothing but the repairs, in memory and on disk. The ledger keeps no such table: visits are kept
     * as they were received, so that SQL would have to read them all first, which is told apart.
     */
    private void naive(Ledger ledger, double changed, double system, double afterVisit) throws SQLException {
        List<Object[]> repairs = new ArrayList<>();
        long from = System.nanoTime();
        new comebackledger.ledger.TransferDesk(ledger).giveCurrent(FLEET, (unit, visit) -> visit.repairs()
                .forEach(repair -> repairs.add(new Object[]{unit.id(), repair.place(), visit.arrivedAt().atOffset(java.time.ZoneOffset.UTC)})));
        System.out.printf(Locale.ROOT, "reading %d repairs out of the visits kept, before any join: %.1f s%n", repairs.size(),
                (System.nanoTime() - from) / 1e9);
        told("in memory", "jdbc:h2:mem:naive", repairs, changed, system, afterVisit);
        told("on disk", "jdbc:h2:file:" + data.resolveSibling("naive").toAbsolutePath(), repairs, changed, system, afterVisit);
    }

    private static void told(String where, String url, List<Object[]> repairs, double changed, double system, double afterVisit) throws SQLException {
        double naive = naive(url, repairs);
        System.out.printf(Locale.ROOT,
                "naive comebacks by a self-join %s: %.2f s; offenders at another instant %.2f of it, of another system %.2f, after a visit %.2f%n",
                where,
                naive, changed / naive, system / naive, afterVisit / naive);
    }

    private static double naive(String url, List<Object[]> repairs) throws SQLException {
        try (Connection connection = DriverManager.getConnection(url + ";OPTIMIZE_REUSE_RESULTS=FALSE", "sa", "");
                Statement statement = connection.createStatement()) {
            statement.execute("drop table if exists naive_repair");
            statement.execute("create table naive_repair (unit varchar, place varchar, repaired_at timestamp with time zone)");
            connection.setAutoCommit(false);
            try (var insert = connection.prepareStatement("insert into naive_repair values (?, ?, ?)")) {
                for (Object[] repair : repairs) {
                    for (int i = 0; i < repair.length; i++) {
                        insert.setObject(i + 1, repair[i]);
                    }
                    insert.executeUpdate();
                }
            }
            statement.execute("create index by_place on naive_repair (unit, place, repaired_at)");
            connection.commit();
            double best = Double.MAX_VALUE;
            for (int round = 0; round < PLANNER_ROUNDS; round++) {
                long from = System.nanoTime();
                try (ResultSet rows = statement.executeQuery(NAIVE_COMEBACKS)) {
                    while (rows.next()) {
                        // read to the end
                    }
                }
                best = Math.min(best, (System.nanoTime() - from) / 1e9);
            }
            statement.execute("drop table naive_repair");
            return best;
        }
    }

    // Dispatch.

    /** Processor time of one question: about a unit looked at for the first time (a question with an instant is), for another trip, for the same one again. */
    private void alone(Ledger ledger) {
        ThreadMXBean thread = ManagementFactory.getThreadMXBean();
        for (int round = 0; round < ROUNDS; round++) {
            int[] asked = new SplittableRandom(round).ints(Math.min(units, 10_000), 0, units).toArray();
            SplittableRandom distances = new SplittableRandom(round);
            Optional<Instant> now = Optional.of(Instant.now());
            double[] costUs = new double[4];
            for (int kind = 0; kind < costUs.length; kind++) {
                long from = thread.getCurrentThreadCpuTime();
                for (int unit : asked) {
                    Trip trip = new Trip(OptionalDouble.of(kind == 2 ? 1 + distances.nextInt(5_000) : 600), OptionalDouble.empty());
                    ledger.dispatch().readiness(FLEET, new DispatchDesk.Question(ScaleFleet.unitId(unit), trip), kind == 0 ? now : Optional.empty());
                }
                costUs[kind] = (thread.getCurrentThreadCpuTime() - from) / 1e3 / asked.length;
            }
            System.out.printf(Locale.ROOT,
                    "readiness of one unit, processor: looked at first %.1f us, known or not %.1f, another trip %.1f, the same %.1f%n",
                    costUs[0], costUs[1], costUs[2], costUs[3]);
        }
    }

    /** The answers by themselves, one call for each unit against one call for many. */
    private void bulk(Ledger ledger) {
        int many = Math.min(units, 10_000);
        List<Double> ratios = new ArrayList<>();
        for (int round = 0; round < ROUNDS; round++) {
            List<DispatchDesk.Question> questions = questions(many, round);
            long from = System.nanoTime();
            for (DispatchDesk.Question question : questions.subList(0, many / 5)) {
                ledger.dispatch().readiness(FLEET, question, Optional.empty());
            }
            double single = (System.nanoTime() - from) / 1e3 / (many / 5);
            from = System.nanoTime();
            ledger.dispatch().readiness(FLEET, questions, Optional.empty());
            double bulk = (System.nanoTime() - from) / 1e3 / many;
            ratios.add(bulk / single);
            System.out.printf(Locale.ROOT, "readiness in process: %.0f us a single one, %.0f us each of %d; ratio %.2f%n", single, bulk, many,
                    bulk / single);
        }
        System.out.printf(Locale.ROOT, "median ratio of many to single, in process: %.2f%n", median(ratios));
    }

    private List<DispatchDesk.Question> questions(int many, int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        return IntStream.range(0, many)
                .mapToObj(_ -> new DispatchDesk.Question(ScaleFleet.unitId(random.nextInt(units)),
                        new Trip(OptionalDouble.of(600), OptionalDouble.empty())))
                .toList();
    }

    /** What is asked over HTTP; each beside the constant route in the same round. */
    private enum Asked {
        UNITS_AT_RANDOM, UNITS_AND_DISTANCES_AT_RANDOM, FEW_UNITS
    }

    /** Real HTTP: a constant route of the same server, single answers of each kind, and one call for many. */
    private void routes(Ledger ledger) throws Exception {
        List<Route> table = Stream.concat(StoredRoutes.of(ledger).stream(), Stream.of(Route.get("/v1/units/{unit}/constant", RouteTable.ANYBODY,
                exchange -> exchange.send(200, Route.JSON, CONSTANT)).asking("at", "distanceKm"))).toList();
        try (RunningServer server = new RunningServer(table, new LocalCallers("default"))) {
            Map<Asked, List<Double>> rates = new EnumMap<>(Asked.class);
            Map<Asked, List<Double>> tails = new EnumMap<>(Asked.class);
            List<Double> bulks = new ArrayList<>();
            for (int round = 0; round <= ROUNDS; round++) {
                int[] asked = new SplittableRandom(round).ints(20_000, 0, units).toArray();
                for (Asked kind : Asked.values()) {
                    HttpLoad.Measured constant = HttpLoad.run(server.port(), CONNECTIONS, asked.length, i -> head(asked[i], "constant", 600));
                    HttpLoad.Measured single = HttpLoad.run(server.port(), CONNECTIONS, asked.length, i -> switch (kind) {
                        case UNITS_AT_RANDOM -> head(asked[i], "readiness", 600);
                        case UNITS_AND_DISTANCES_AT_RANDOM -> head(asked[i], "readiness", 1 + asked[(i + 1) % asked.length] % 5_000);
                        case FEW_UNITS -> head(asked[i % 500], "readiness", 600);
                    });
                    System.out.printf(Locale.ROOT, "%s: constant %.0f/s p99 %.1f ms; readiness %.0f/s p99 %.1f ms; rate %.2f, p99 %.1f times%n", kind,
                            constant.perSecond(), constant.p99Ms(), single.perSecond(), single.p99Ms(), single.perSecond() / constant.perSecond(),
                            single.p99Ms() / constant.p99Ms());
                    if (round > 0) {
                        rates.computeIfAbsent(kind, _ -> new ArrayList<>()).add(single.perSecond() / constant.perSecond());
                        tails.computeIfAbsent(kind, _ -> new ArrayList<>()).add(single.p99Ms() / constant.p99Ms());
                    }
                }
                HttpLoad.Measured alone = HttpLoad.run(server.port(), 1, 2_000, i -> head(asked[i], "readiness", 600));
                String body = body(asked);
                HttpLoad.Measured many = HttpLoad.run(server.port(), 1, 4, _ -> body);
                System.out.printf(Locale.ROOT, "alone %.3f ms, of 10 000 %.4f ms each: %.2f%n", 1e3 / alone.perSecond(), many.medianMs() / BULK,
                        many.medianMs() / BULK * alone.perSecond() / 1e3);
                bulks.add(many.medianMs() / BULK * alone.perSecond() / 1e3);
            }
            rates.forEach((kind, ratios) -> System.out.printf(Locale.ROOT,
                    "median, %s: readiness %.2f of the constant route's requests/s, p99 %.1f times%n",
                    kind, median(ratios), median(tails.getOrDefault(kind, List.of()))));
            System.out.printf(Locale.ROOT, "median: one of 10 000 %.2f of a single call; %.0f MiB%n", median(bulks), usedMib());
        }
    }

    private static final int BULK = 10_000;

    private static String head(int unit, String what, int km) {
        return "GET /v1/units/" + ScaleFleet.unitId(unit) + "/" + what + "?distanceKm=" + km + " HTTP/1.1\r\nHost: localhost\r\nAccept: */*\r\n";
    }

    private static String body(int[] asked) {
        StringBuilder body = new StringBuilder("{\"units\":[");
        for (int i = 0; i < BULK; i++) {
            body.append(i == 0 ? "" : ",").append("{\"unit\":\"").append(ScaleFleet.unitId(asked[i])).append("\",\"distanceKm\":600}");
        }
        body.append("]}");
        return "POST /v1/readiness HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: " + (body.length() + 2)
                + "\r\n\r\n"
                + body; // the line end that is sent after it is white space
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }

    private double timed(String what, Supplier<?> work) {
        long from = System.nanoTime();
        Object result = work.get();
        double seconds = (System.nanoTime() - from) / 1e9;
        System.out.printf(Locale.ROOT, "%s of %d units: %.2f s, %.0f MiB used%n", what, units, seconds, result == null ? 0 : usedMib());
        return seconds;
    }
}
