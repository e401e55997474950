import { Component, type FunctionComponent } from 'preact'

/** A component that is drawn anew only when its properties are no longer the same. */
export function memo<P extends object>(Drawn: FunctionComponent<P>, isSame: (before: P, now: P) => boolean) {
  return class extends Component<P> {
    override shouldComponentUpdate(now: P): boolean {
      return !isSame(this.props, now)
    }
    override render(props: P) {
      return <Drawn {...props} />
    }
  }
}
