package comebackledger.api;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;

/** Bytes to a port, and whatever comes back: what no client library would let out of the house. */
final class RawHttp {
    private static final int WAIT_MS = 10_000;

    private RawHttp() {}

    record Answer(int status, String head, String body) {
        boolean hasHeader(String header) {
            return head.toLowerCase(java.util.Locale.ROOT).contains("\r\n" + header.toLowerCase(java.util.Locale.ROOT));
        }
    }

    /** @param finish whether to end the sending side, as a client does that has no more to say */
    static Answer send(int port, byte[] bytes, boolean finish) throws IOException {
        try (Socket socket = new Socket("127.0.0.1", port)) {
            socket.setSoTimeout(WAIT_MS);
            try {
                socket.getOutputStream().write(bytes);
                socket.getOutputStream().flush();
                if (finish) {
                    socket.shutdownOutput();
                }
            } catch (IOException e) {
                // Refused while we were still sending: the answer may be there all the same.
            }
            return read(socket.getInputStream(), new String(bytes, 0, Math.min(5, bytes.length), StandardCharsets.ISO_8859_1).equals("HEAD "));
        }
    }

    static Answer send(int port, String text) throws IOException {
        return send(port, text.getBytes(StandardCharsets.ISO_8859_1), false);
    }

    private static Answer read(InputStream in, boolean headOnly) throws IOException {
        ByteArrayOutputStream all = new ByteArrayOutputStream();
        String head = "";
        int expected = Integer.MAX_VALUE;
        try {
            for (int b = in.read(); b >= 0; b = in.read()) {
                all.write(b);
                if (head.isEmpty() && all.toString(StandardCharsets.ISO_8859_1).endsWith("\r\n\r\n")) {
                    head = all.toString(StandardCharsets.ISO_8859_1);
                    expected = head.length() + (headOnly ? 0 : contentLength(head));
                }
                if (all.size() >= expected) {
                    break;
                }
            }
        } catch (SocketTimeoutException e) {
            return new Answer(0, head, "no answer");
        } catch (IOException e) {
            // A connection reset after the answer is an answer.
        }
        if (head.isEmpty()) {
            return new Answer(-1, "", "closed without an answer");
        }
        return new Answer(Integer.parseInt(head.substring(9, 12)), head, all.toString(StandardCharsets.UTF_8).substring(head.length()));
    }

    private static int contentLength(String head) {
        for (String line : head.split("\r\n")) {
            if (line.toLowerCase(java.util.Locale.ROOT).startsWith("content-length:")) {
                return Integer.parseInt(line.substring(15).trim());
            }
        }
        return Integer.MAX_VALUE / 2;
    }
}
