package comebackledger.code;

import comebackledger.code.CodeReport.Acknowledgement;
import comebackledger.code.Rejection.Where;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.OptionalLong;

/** Folds J1939 frames, one after another, into codes, lamps, acknowledgements and rejections. */
final class J1939Reader implements J1939Transport.Listener {
    private static final int ACKNOWLEDGEMENT_GROUP = 0xE800; // 59392, SAE J1939-21
    private static final int CLEAR_EARLIER_GROUP = 65228; // DM3, SAE J1939-73
    private static final int CLEAR_ACTIVE_GROUP = 65235; // DM11, SAE J1939-73
    private static final int ACCEPTED = 0;
    private static final int SMALLEST_DM = 6; // two lamp bytes and one code

    private final Where where;
    private final SenderCodes senders;
    private final CodeReport.Builder report;
    private final J1939Transport transport;
    private boolean full;

    J1939Reader(Where where, Limits limits) {
        this.where = where;
        this.senders = new SenderCodes(limits);
        this.report = new CodeReport.Builder(limits);
        this.transport = new J1939Transport(limits, this);
    }

    /** Frames that are no data frames of 29 bits carry no codes and are passed over. */
    void accept(int place, OptionalLong micros, Optional<String> network, CandumpLine.Frame frame) {
        if (frame.kind() != CandumpLine.Kind.DATA || !frame.extended()) {
            return;
        }
        J1939Identifier identifier = J1939Identifier.of(frame.identifierNumber());
        J1939Transport.Heard heard = new J1939Transport.Heard(place, micros, network, identifier);
        byte[] data = frame.data();
        switch (identifier.parameterGroup()) {
            case J1939Transport.CONNECTION_GROUP -> transport.connection(heard, data);
            case J1939Transport.DATA_GROUP -> transport.data(heard, data);
            case ACKNOWLEDGEMENT_GROUP -> acknowledgement(heard, data);
            default -> DmKind.of(identifier.parameterGroup()).ifPresent(kind -> single(heard, kind, data));
        }
    }

    void reject(int place, Why why, String detail) {
        report.reject(new Rejection(where, place, why, detail));
    }

    CodeReport finish() {
        transport.finish();
        senders.into(report);
        return report.build();
    }

    private void single(J1939Transport.Heard heard, DmKind kind, byte[] data) {
        if (data.length < SMALLEST_DM) {
            reject(heard.place(), Why.LENGTH, "A frame with codes has two lamp bytes and four bytes of code.");
        } else {
            add(heard, kind, data);
        }
    }

    @Override
    public void whole(J1939Transport.Heard last, int parameterGroup, byte[] message) {
        DmKind.of(parameterGroup).ifPresent(kind -> add(last, kind, message));
    }

    @Override
    public void broken(int place, Why why, String detail) {
        reject(place, why, detail);
    }

    private void add(J1939Transport.Heard heard, DmKind kind, byte[] data) {
        DmMessage message = DmMessage.decode(data);
        if (message.cutAt().isPresent()) {
            reject(heard.place(), Why.LENGTH, DmMessage.CUT);
        }
        SenderCodes.Sender sender = new SenderCodes.Sender(heard.network(), OptionalInt.of(heard.identifier().sourceAddress()));
        if (!senders.add(sender, kind, message) && !full) {
            full = true;
            reject(heard.place(), Why.LENGTH, "There are more different codes than one reading keeps; this one and later new ones are left out.");
        }
    }

    private void acknowledgement(J1939Transport.Heard heard, byte[] data) {
        if (data.length < 8) {
            reject(heard.place(), Why.LENGTH, "An acknowledgement has 8 bytes.");
            return;
        }
        int group = J1939Transport.group(data, 5);
        if (group == CLEAR_EARLIER_GROUP || group == CLEAR_ACTIVE_GROUP) {
            report.acknowledge(new Acknowledgement(heard.identifier().sourceAddress(), heard.network(), group, data[0] == ACCEPTED));
        }
    }
}
