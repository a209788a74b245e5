/**
 * One channel of a speed controller as an average-value PWM model: the motor sees d·V − i·R_on, the bus gives d·i.
 *
 * PWM makes the winding current swing about its mean; the swing's extra heat is the ripple loss, large on small
 * motors with little inductance. Each bus current is raised by it, and by a model-form factor at part duty (1 unless learnt).
 * Sources: R. W. Erickson and D. Maksimovic, Fundamentals of Power Electronics, 2nd ed. 2001, ch. 2–3 (average value, ripple).
 * Neglected: switching loss, dead time, extra resistance of copper and iron loss at the switching frequency.
 */

/**
 * Mean square of the current's swing, A², when a voltage (V) is switched at a duty (0 … 1) into a resistance (ohm) and an
 * inductance (H) at a frequency (Hz): variance of a rectangular wave after a first-order low pass. For short periods it is the
 * textbook triangle (V·d·(1 − d)/(f·L))²/12; for long ones it ends at V²·d·(1 − d)/R² where the triangle would grow without bound.
 */
export function rippleMeanSquare(
  voltage: number,
  duty: number,
  resistance: number,
  inductance: number,
  frequency: number,
): number {
  if (duty <= 0 || duty >= 1) return 0;
  const period = resistance / (inductance * frequency);
  if (period < 1e-3) return ((voltage * duty * (1 - duty)) / (frequency * inductance)) ** 2 / 12;
  const on = -Math.expm1(-duty * period);
  const off = -Math.expm1(-(1 - duty) * period);
  // 1 − e^−(a + b)
  const whole = on + off - on * off;
  const share = duty * (1 - duty) - (on * off) / (whole * period);
  return share * (voltage / resistance) ** 2;
}

/** Factor on a channel's electrical power at a duty: the whole model-form factor at half duty, none at full duty. */
export function partDutyFactor(factor: number, duty: number): number {
  return duty < 1 ? 1 + (factor - 1) * 4 * duty * (1 - duty) : 1;
}
