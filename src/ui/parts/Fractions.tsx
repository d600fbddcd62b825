/** Text whose thirds are set as fractions; read aloud as they are written. */
export function Fractions({ text }: { readonly text: string }) {
  const parts = text.split(/(\d\/\d)/);
  return (
    <>
      {parts.map((part, index) =>
        /^\d\/\d$/.test(part) ? (
          <span className="fr" key={index}>
            {part}
          </span>
        ) : (
          part
        ),
      )}
    </>
  );
}
