// In which unit a file is that may not say it: a form's radio buttons; '' leaves it to the file, as `own` has it.

export function FileUnits(props: { name: string; legend: string; own: string }) {
  return (
    <fieldset class="choice">
      <legend>{props.legend}</legend>
      {[['', props.own], ['mm', 'mm'], ['in', 'inch']].map(([unit, words]) => (
        <label key={unit}><input type="radio" name={props.name} value={unit} defaultChecked={unit === ''} />{words}</label>
      ))}
    </fieldset>
  );
}
