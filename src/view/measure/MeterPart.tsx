/** Meters: one that types needs nothing; one on a serial port or over Bluetooth is connected here. */
import { type ReactNode, useId, useState } from "react";
import { say } from "../../words/index.ts";
import panes from "../panes/Panes.module.css";
import { measure } from "../state/measure-app.ts";
import { connectMeter, leaveMeter, useMeter } from "../state/measure-meter.ts";
import { bluetoothMeter, browserBluetooth, uuidOf } from "./meters/bluetooth.ts";
import type { ConnectedMeter } from "./meters/connected.ts";
import { BAUD_RATES, browserSerial, serialMeter, USUAL_BAUD_RATE } from "./meters/serial.ts";
import styles from "./Overview.module.css";

export function MeterPart() {
  return (
    <details className={styles.fold} data-fold="meter">
      <summary>{say("measure.meter.title")}</summary>
      <div className={styles.folded}>
        <p>{say("measure.meter.typing")}</p>
        <MeterNow />
        <SerialPart />
        <BluetoothPart />
      </div>
    </details>
  );
}

function connect(source: ConnectedMeter): void {
  void connectMeter(source, (text) => measure.getState().sayUnasked(text));
}

function MeterNow() {
  const meter = useMeter();
  if (meter.state === "none") return null;
  const text =
    meter.state === "connecting"
      ? say("measure.meter.connecting")
      : meter.state === "connected"
        ? say("measure.meter.connected", { name: meter.name, lines: meter.lines })
        : meter.state === "gone"
          ? say("measure.meter.gone", { name: meter.name })
          : meter.message === undefined
            ? say("measure.meter.noneChosen")
            : say("measure.meter.failed", { message: meter.message });
  return (
    <div className={styles.now} role="status" data-meter={meter.state}>
      <p>{text}</p>
      {meter.state === "connected" ? (
        <button type="button" className={panes.textButton} onClick={() => void leaveMeter()}>
          {say("measure.meter.leave")}
        </button>
      ) : null}
    </div>
  );
}

function Kind({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className={styles.kind}>
      <h4>{title}</h4>
      {children}
    </section>
  );
}

function SerialPart() {
  const serial = browserSerial();
  const [baudRate, setBaudRate] = useState(USUAL_BAUD_RATE);
  return (
    <Kind title={say("measure.meter.serial")}>
      {serial === undefined ? (
        <p>{say("measure.meter.noSerial")}</p>
      ) : (
        <div className={styles.line}>
          <label>
            {say("measure.meter.baud")}{" "}
            <select
              data-input="baud"
              value={baudRate}
              onChange={({ target }) => setBaudRate(Number(target.value))}
            >
              {BAUD_RATES.map((rate) => (
                <option key={rate} value={rate}>
                  {rate}
                </option>
              ))}
            </select>
          </label>
          <button
            type="button"
            className={styles.button}
            data-action="connect serial"
            onClick={() => connect(serialMeter(serial, baudRate, say("measure.meter.serialName")))}
          >
            {say("measure.meter.connect")}
          </button>
        </div>
      )}
    </Kind>
  );
}

function BluetoothPart() {
  const bluetooth = browserBluetooth();
  const [service, setService] = useState("");
  const [characteristic, setCharacteristic] = useState("");
  const hint = useId();
  const [from, what] = [uuidOf(service), uuidOf(characteristic)];
  const isWrong = (text: string): boolean => text.trim() !== "" && uuidOf(text) === undefined;
  return (
    <Kind title={say("measure.meter.bluetooth")}>
      {bluetooth === undefined ? (
        <p>{say("measure.meter.noBluetooth")}</p>
      ) : (
        <>
          <p id={hint}>{say("measure.meter.uuids")}</p>
          <label>
            {say("measure.meter.service")}
            <input
              type="text"
              data-input="service"
              spellCheck={false}
              autoComplete="off"
              aria-describedby={hint}
              aria-invalid={isWrong(service)}
              value={service}
              onChange={({ target }) => setService(target.value)}
            />
          </label>
          <label>
            {say("measure.meter.characteristic")}
            <input
              type="text"
              data-input="characteristic"
              spellCheck={false}
              autoComplete="off"
              aria-describedby={hint}
              aria-invalid={isWrong(characteristic)}
              value={characteristic}
              onChange={({ target }) => setCharacteristic(target.value)}
            />
          </label>
          <button
            type="button"
            className={styles.button}
            data-action="connect bluetooth"
            disabled={from === undefined || what === undefined}
            onClick={() => {
              if (from === undefined || what === undefined) return;
              connect(bluetoothMeter(bluetooth, from, what, say("measure.meter.bluetoothName")));
            }}
          >
            {say("measure.meter.connect")}
          </button>
        </>
      )}
    </Kind>
  );
}
