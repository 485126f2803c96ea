package comebackledger.api;

import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.IntFunction;

/** Requests over a few kept connections, each sent when the one before was answered, and how long they took. */
final class HttpLoad {
    private HttpLoad() {}

    /** @param perSecond of all connections together */
    record Measured(double perSecond, double medianMs, double p99Ms) {}

    /** @param request the head of the n-th request, without its last empty line */
    static Measured run(int port, int connections, int requests, IntFunction<String> request) throws InterruptedException, ExecutionException {
        int each = requests / connections;
        long[] took = new long[each * connections];
        long from = System.nanoTime();
        try (ExecutorService threads = Executors.newFixedThreadPool(connections)) {
            List<Future<?>> running = new ArrayList<>();
            for (int c = 0; c < connections; c++) {
                int first = c * each;
                running.add(threads.submit(() -> {
                    one(port, first, each, took, request);
                    return true;
                }));
            }
            for (Future<?> one : running) {
                one.get();
            }
        }
        double seconds = (System.nanoTime() - from) / 1e9;
        Arrays.sort(took);
        return new Measured(took.length / seconds, took[took.length / 2] / 1e6, took[(int) (took.length * 0.99)] / 1e6);
    }

    private static void one(int port, int first, int count, long[] took, IntFunction<String> request) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", port)) {
            socket.setTcpNoDelay(true);
            DataInputStream in = new DataInputStream(new BufferedInputStream(socket.getInputStream()));
            for (int i = first; i < first + count; i++) {
                byte[] bytes = (request.apply(i) + "\r\n").getBytes(StandardCharsets.ISO_8859_1);
                long from = System.nanoTime();
                socket.getOutputStream().write(bytes);
                answer(in);
                took[i] = System.nanoTime() - from;
            }
        }
    }

    @SuppressWarnings("deprecation") // readLine is for bytes that are Latin-1, as headers are
    private static void answer(DataInputStream in) throws IOException {
        int length = 0;
        String status = in.readLine();
        if (status == null || !status.startsWith("HTTP/1.1 200")) {
            throw new IOException("not answered: " + status);
        }
        for (String line = in.readLine(); !line.isEmpty(); line = in.readLine()) {
            if (line.startsWith("Content-Length: ")) {
                length = Integer.parseInt(line.substring(16));
            }
        }
        in.skipNBytes(length);
    }
}
