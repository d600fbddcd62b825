import { useId, useMemo } from 'react';
import { Button } from 'react-aria-components';
import type { Lamp, SceneDocument } from '../../../scene/schema';
import { keywordText, type PhotometricFile } from '../../../scene/webs/photometricFile';
import { readStored } from '../../../scene/webs/readPhotometricText';
import { webFigures, type WebFigures } from '../../../sim/photometry/web/figures';
import { gridOf, type WebGrid } from '../../../sim/photometry/web/grid';
import { CandelaTable, FigureList, figureRows, Plots } from './SpreadParts';

interface Web {
  readonly name: string;
  readonly file: PhotometricFile;
  readonly grid: WebGrid;
  readonly figures: WebFigures;
}

function useWeb(lamp: Lamp, webs: SceneDocument['webs']): Web | null {
  const stored = lamp.distribution.kind === 'web' ? webs?.[lamp.distribution.webId] : undefined;
  return useMemo(() => {
    const read = stored && readStored(stored);
    if (!read?.ok) return null;
    const grid = gridOf(read.file);
    return { name: stored!.fileName ?? stored!.name, file: read.file, grid, figures: webFigures(grid) };
  }, [stored]);
}

function fileRows({ file, figures, name }: Web): [string, string][] {
  const format = file.edition === null ? 'EULUMDAT' : `LM-63 of ${file.edition}`;
  return [
    ['File', name],
    ['Format', `${format}, type ${file.system}`],
    ['Lamp', keywordText(file, 'LUMINAIRE', 'LUMCAT') ?? 'not named'],
    ...figureRows(figures),
  ];
}

/** What the lamp's photometric file says, drawn and in figures; and the way to give the lamp one. */
export function WebFields({
  lamp,
  webs,
  onFile,
}: {
  readonly lamp: Lamp;
  readonly webs: SceneDocument['webs'];
  readonly onFile: () => void;
}) {
  const web = useWeb(lamp, webs);
  const titleId = useId();
  return (
    <section className="web" aria-labelledby={web ? titleId : undefined}>
      {web && (
        <>
          <h4 id={titleId}>Photometric file</h4>
          <FigureList rows={fileRows(web)} />
          <Plots grid={web.grid} />
          <CandelaTable grid={web.grid} />
        </>
      )}
      <Button className="button" onPress={onFile}>
        {web ? 'Open another photometric file' : 'Open a photometric file'}
      </Button>
    </section>
  );
}
