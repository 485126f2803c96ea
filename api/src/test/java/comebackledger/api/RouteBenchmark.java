package comebackledger.api;

import comebackledger.api.caller.LocalCallers;
import comebackledger.api.http.Route;
import comebackledger.api.route.RouteTable;
import io.helidon.http.HeaderNames;
import io.helidon.http.HeaderValues;
import io.helidon.webserver.WebServer;
import java.io.DataInputStream;
import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Threads;
import org.openjdk.jmh.annotations.Warmup;

/** What a route of ours costs beside a constant route of the same server. Only the ratio within one run means anything. */
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 4, time = 2)
@Threads(16)
public class RouteBenchmark {
    private static final byte[] DOCUMENT = ("{\"answer\":\"ready\",\"padding\":\"" + "x".repeat(600) + "\"}").getBytes(StandardCharsets.UTF_8);

    @State(Scope.Benchmark)
    public static class Server {
        WebServer server;
        LedgerService service;

        @Setup
        public void start() {
            service = new LedgerService(List.of(Route.get("/v1/units/{unit}/constant", RouteTable.ANYBODY,
                    exchange -> exchange.send(200, Route.JSON, DOCUMENT)).asking("at", "distanceKm")), new LocalCallers("default"));
            server = WebServer.builder().host("127.0.0.1").port(0).featuresDiscoverServices(false)
                    .routing(routing -> routing.get("/constant", (_, response) -> {
                        response.headers().set(HeaderValues.create(HeaderNames.CONTENT_TYPE, "application/json"));
                        response.send(DOCUMENT);
                    }).register("/", service)).build().start();
        }

        @TearDown
        public void stop() {
            server.stop();
            service.close();
        }
    }

    @State(Scope.Thread)
    public static class Connection {
        Socket socket;
        DataInputStream in;

        @Setup
        public void open(Server server) throws IOException {
            socket = new Socket("127.0.0.1", server.server.port());
            socket.setTcpNoDelay(true);
            in = new DataInputStream(new java.io.BufferedInputStream(socket.getInputStream()));
        }

        @TearDown
        public void close() throws IOException {
            socket.close();
        }

        @SuppressWarnings("deprecation") // readLine is for bytes that are Latin-1, as headers are
        int get(String target) throws IOException {
            socket.getOutputStream()
                    .write(("GET " + target + " HTTP/1.1\r\nHost: localhost\r\nAccept: */*\r\n\r\n").getBytes(StandardCharsets.ISO_8859_1));
            int length = 0;
            for (String line = in.readLine(); !line.isEmpty(); line = in.readLine()) {
                if (line.startsWith("Content-Length: ")) {
                    length = Integer.parseInt(line.substring(16));
                }
            }
            return in.readNBytes(length).length;
        }
    }

    @Benchmark
    public int constantRoute(Connection connection) throws IOException {
        return connection.get("/constant");
    }

    @Benchmark
    public int ledgerRoute(Connection connection) throws IOException {
        return connection.get("/v1/units/T-104/constant?distanceKm=600");
    }
}
